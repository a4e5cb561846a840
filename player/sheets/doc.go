// Package sheets opens sheets by name, lists them and notices when they are saved.
//
// A name is a file, an example sheet, a title, or "-" for standard input. The package doesn't
// judge sheets: library/check does, and a [Sheet] holds what it found. Nor does it print or show
// anything.
//
// Begin with [Shelf].
package sheets
