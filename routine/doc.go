// Package routine reads, checks and tidies a partner dance written as a sheet.
//
// A sheet is a Markdown document. [Read] parses it and dances it through: it
// returns a [Score], which has every step on its exact beat, and every
// [Finding] that a teacher would raise. [Tidy] rewrites a sheet in its one form.
// Nothing here knows of sound or screens, nor where feet land on the floor; that
// is package floor.
//
// A listing shows what a file is for:
//
//   - mend_*.go recognises what each line is meant to be, and writes it as Markdown has it.
//   - parse_*.go turns Markdown into values: blocks, front matter, order, chart,
//     count, step. The words of the language are tables in words_*.go, which
//     vocabulary.go looks up.
//   - check_*.go dances those values through and reports what can't be danced.
//   - tidy.go writes them back, and edit_order.go changes the order where it stands.
//   - The other files are the values: beats, step, figure, dance, score …
//
// Begin with Read in check_score.go and follow it down.
//
// # Beats
//
// [Beats] are whole numbers of 1/960 of a beat, so that sums are exact:
// nothing here adds or compares times in floating point.
//
// # Directions
//
// A sheet need not say which way the couple faces. What is known is a set: the
// pairs (leader's direction, follower's direction) in which they may be standing,
// kept in 64 bits (facings). A turn rotates the set; a position keeps the pairs
// whose difference fits it; an alignment keeps the pairs that face that way. When
// nothing is left, two things contradict each other, and the finding says which.
// A figure's effect is the set it needs and how it turns it. A join compares the
// set that one figure leaves with the set that the next one needs.
//
// An [Outcome] is that state between two figures, with how far the bar has been
// danced. [Outcome.Then] dances one more figure, or returns what stops it. A
// sheet's joins are judged by the same code, so whoever searches for figures that
// follow each other finds exactly what a sheet would accept.
//
// # Findings
//
// All findings are reported at once, sorted by place, and none causes another:
// what can't be read makes whatever depends on it unknown, not wrong.
package routine
