// Package picture paints drawings as pixels: as PNG, or several one after the other as a moving GIF.
package picture
