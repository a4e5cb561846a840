// Package drawing draws for paper: a figure with both partners' footprints, the way of each foot from
// where it stood to where it goes, the turns, and how the couple ends; and where a routine leads in
// the hall.
//
// [New] takes a path, which knows where feet are; [Drawer.Figure] draws one of its passages, [Hall] all
// of it, and [Paper] both on pages. A [Drawing] is shapes in millimetres, which [Drawing.SVG] writes. It is
// not the plan of a terminal (package plan), and not how the couple moves (package motion).
//
// A figure is laid out in three steps. Feet that would hide each other are nudged apart, with a
// dotted line from where they truly stand (prints.go). What can't be told apart so is
// split at its natural half or, if the couple stays on the spot, unrolled in time, a picture for each
// step (layout.go). Then counts and turns are written where they hide least (labels.go).
package drawing
