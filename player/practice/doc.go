// Package practice decides what to practise next from what was danced before.
//
// It reads neither files nor the clock: package diary keeps what was danced, package
// screen shows it. Begin with [NewSession], which plans a session from a timeline, its
// [History] and a [Wish]; the research that it follows is named beside its constants.
//
// A figure is known from one practice to the next by its name or its steps
// ([Figure]), and a join by its two figures, so what was learnt stays known when a
// sheet is renamed or edited. A run-through is clean only if the dancers judged it: what
// nobody judged was danced, and says nothing of how well. It is no longer new, so that a
// session takes it by turns and asks; but it moves no day on which a figure is due, or
// watching would put off what was about to be forgotten. Each day a figure was judged
// has one grade, by whether its first judged run-through and the later ones were marked;
// of a run-through that danced only part of it, only a mark counts. FSRS-5 ([Memory]) turns the
// grades into the day on which the figure is due. TestThePlanSavesRunThroughs measures
// how much that saves, with dancers who learn and forget by other laws than the
// schedule's.
//
// A [Spell] is the dancing up to a rest: sessions put their breathers by it, and
// the screen suggests a pause. When a sheet is saved while a session leads through
// it, [Session.On] finds the session's exercises again by their figures.
package practice
