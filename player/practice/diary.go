package practice

import (
	"time"

	"dance.example/slowquick/routine"
)

// Diary keeps what is danced. None of its methods waits.
type Diary interface {
	// Begin begins a practice of a routine. Nothing is kept before its first run-through.
	Begin(*routine.Score) Keeper
	// TakeBack takes an open mark back, in all run-throughs in which it was marked.
	TakeBack(OpenMark)
	// Status says in plain words that nothing is being kept, and why; "" if all is well.
	Status() string
}

// Keeper keeps one practice, run-through by run-through.
type Keeper interface {
	Keep(Kept)
	// Judge takes in that some partners said how all of a run-through went, which was kept before.
	Judge(ended time.Time, by [2]bool)
}
