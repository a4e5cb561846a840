package practice

import (
	"cmp"
	"slices"
	"time"

	"dance.example/slowquick/routine"
)

// Summary is what a session came to.
type Summary struct {
	Title       string
	Planned     int           // exercises
	Exercises   int           // those of them that were danced
	RunThroughs int           // since the session was planned
	Dancing     time.Duration // time spent in them
	Danced      []Piece       // in the order of the routine
	Better      []Better      // in the order of the routine
	Next        []Next        // the soonest first
}

// Better is a piece that a partner now dances better than before the session.
type Better struct {
	Piece   Piece
	Partner routine.Partner
	Was     routine.Tempo // the fastest clean run-through before; 0 if there was none
	Now     routine.Tempo // the fastest with the session
	Mended  bool          // it was shaky before, and no longer is
}

// Next is when a partner should dance a piece again.
type Next struct {
	Piece   Piece
	Partner routine.Partner
	Day     Day
	New     bool // never danced; Day is then the day after the session
}

// Summary returns what a session of a score came to for its dancers. Kept is all they ever danced, in
// order of time; what was danced since the session was planned is what it came to. Days change at
// midnight in zone.
func (s Session) Summary(score *routine.Score, kept []Kept, dancers routine.Dancers, zone *time.Location) Summary {
	from, _ := slices.BinarySearchFunc(kept, s.Made, func(k Kept, made time.Time) int { return k.At.Compare(made) })
	before, after := NewHistory(score, kept[:from], zone), NewHistory(score, kept, zone)
	sum := Summary{Title: score.Title, RunThroughs: len(kept) - from}
	for i, e := range s.Exercises {
		if e.Kind == Breather {
			continue
		}
		sum.Planned++
		if i < s.Done && !e.Skipped {
			sum.Exercises++
		}
	}
	for i := range kept[from:] {
		sum.Dancing += kept[from+i].Took
	}
	today := DayOf(s.Made.In(zone))
	for _, at := range placesOf(score) {
		danced := false
		for _, q := range dancers.Partners() {
			was, now := before.Of(at.Piece, q), after.Of(at.Piece, q)
			danced = danced || now.Passes > was.Passes
			if mended := was.Shaky() && !now.Shaky(); mended || now.Best > was.Best {
				sum.Better = append(sum.Better, Better{at.Piece, q, was.Best, now.Best, mended})
			}
			sum.Next = append(sum.Next, nextOf(at.Piece, q, &now, today))
		}
		if danced {
			sum.Danced = append(sum.Danced, at.Piece)
		}
	}
	slices.SortStableFunc(sum.Next, func(a, b Next) int { return cmp.Compare(a.Day, b.Day) })
	return sum
}

// nextOf returns when to dance a piece again after a day's session; never on the same day.
func nextOf(piece Piece, q routine.Partner, r *Record, today Day) Next {
	n := Next{Piece: piece, Partner: q, Day: max(r.Due(), today+1), New: r.New()}
	if r.Shaky() {
		n.Day = today + 1
	}
	return n
}
