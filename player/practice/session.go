package practice

import (
	"slices"
	"time"

	"dance.example/slowquick/player"
	"dance.example/slowquick/routine"
)

// Wish is what a session is planned for.
type Wish struct {
	Now     time.Time
	Minutes float64
	Goal    routine.Tempo // 0 for the sheet's own
	By      time.Time     // the day on which the goal should be reached; zero for none
	Dancers routine.Dancers
	Couple  bool          // whether each partner's own marks count
	Swap    bool          // whether the dancer dances both parts
	Every   time.Duration // dancing time between two breathers; 0 for usualEvery
}

// Session is what to practise, in order. Done is all that changes as it is danced, left and resumed.
type Session struct {
	Title     string     `json:"title"`
	Dance     string     `json:"dance"`
	Made      time.Time  `json:"made"`
	Level     float64    `json:"level"` // the tempo danced clean so far, in per cent of the sheet's
	Today     float64    `json:"today"` // the tempo to reach today
	Goal      float64    `json:"goal"`
	Exercises []Exercise `json:"stretches"`
	Why       string     `json:"why,omitempty"`      // it takes less time than wished, or more; "" if it does not
	Tomorrow  []string   `json:"tomorrow,omitempty"` // what needs practice and had no time, in the dancer's words
	Done      int        `json:"done"`
}

// Takes returns how long all of s takes.
func (s Session) Takes() (all time.Duration) {
	for _, st := range s.Exercises {
		all += st.Takes
	}
	return all
}

// Next returns the exercise to dance; ok is false after the last.
func (s Session) Next() (next Exercise, ok bool) {
	if s.Done >= len(s.Exercises) {
		return Exercise{}, false
	}
	return s.Exercises[s.Done], true
}

// Fits reports whether a session that was kept can still be danced on a timeline: whether all exercises
// that are left are valid there.
func (s Session) Fits(timeline *player.Timeline) bool {
	fits := func(st Exercise) bool {
		takes := 0 <= st.Takes && st.Takes <= 24*time.Hour
		if st.Kind == Breather {
			return takes
		}
		playable := func(percent float64) bool {
			return player.SlowestPercent <= percent && percent <= player.FastestPercent
		}
		t := st.Tempi
		return takes && 0 <= st.From && st.From < st.To && st.To <= len(timeline.Score.Passages) &&
			!st.Part.Empty() && timeline.Start <= st.Part.From && st.Part.To <= timeline.End &&
			playable(t.Start) && playable(t.Top) && (t.Gain == 0 || t.Gain >= player.LeastGain && t.Start <= t.Top) &&
			0 < st.Passes && st.Passes <= mostPasses && 0 <= st.ByHeart && st.ByHeart <= st.Passes
	}
	return len(s.Exercises) > 0 && 0 <= s.Done && s.Done <= len(s.Exercises) && !slices.ContainsFunc(s.Exercises[s.Done:], func(st Exercise) bool { return !fits(st) })
}

// mostPasses is more than any planned exercise has.
const mostPasses = 999

// After returns s with one more exercise behind it, which was danced or skipped.
func (s Session) After(danced bool) Session {
	if next, ok := s.Next(); ok {
		next.Skipped = !danced
		s.Exercises = slices.Clone(s.Exercises)
		s.Exercises[s.Done] = next
		s.Done++
	}
	return s
}
