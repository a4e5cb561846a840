// Package routine reads, checks and tidies a partner dance written as a sheet:
// beats, counts, steps, figures, dances and the order they are danced in.
//
// A sheet is a Markdown document. [Read] turns it into a [Score], which is
// every step of the routine on its exact beat, and reports as [Finding]s all
// that a teacher would object to. Nothing here knows of sound or screens.
package routine
