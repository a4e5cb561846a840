package routine

import (
	"fmt"
	"strings"
)

// Metre is a dance's metre: Beats beats to a bar, each a 1/Unit note.
type Metre struct {
	Beats int `json:"beats"`
	Unit  int `json:"unit"`
}

// String gives m as it is printed, "3/4".
func (m Metre) String() string { return fmt.Sprintf("%d/%d", m.Beats, m.Unit) }

// Bar is the length of a bar.
func (m Metre) Bar() Beats { return Beats(m.Beats) * Beat }

// BarNumber is the bar that a place lies in: 1 is the one that begins at beat 0.
func (m Metre) BarNumber(at Beats) int { return int(at.Floor(m.Bar())/m.Bar()) + 1 }

// BeatNumber is the beat of its bar that a place lies in, from 1.
func (m Metre) BeatNumber(at Beats) int { return int(at.Into(m.Bar())/Beat) + 1 }

// Dance is what all figures of a dance share.
type Dance struct {
	Name        string
	Aliases     []string
	Metre       Metre
	Begins      int   // the count on which figures begin, from 1
	Slow, Quick Beats // the values of S and Q
	And, A      Beats // what & and a take from the count before them

	// FigureNumbers says that a number counts the figure's own beats, as in
	// jive, where "3 a 4" may follow "3 a 4". Otherwise it names a beat of the bar.
	FigureNumbers bool

	PhraseBars  int      // bars in a phrase
	Accents     []int    // beats of the bar that a dancer hears accented, from 1
	Sayings     []Saying // how a run of counts is said
	Usual       TempoRange
	Competition TempoRange // zero if there is none

	// Travels says that couples go round the room along the line of dance.
	Travels bool
	Stride  Stride
	Rhythm  Rhythm

	UsualSource       string
	CompetitionSource string
}

// Saying is how teachers say a run of counts: 4 & 1 as "cha cha cha".
type Saying struct {
	Counts []string
	Words  []string // as many as Counts
}

// Tempo is the tempo at which the dance is played if a sheet names none: the
// middle of its competition range, or of its usual range.
func (d *Dance) Tempo() Tempo {
	r := d.Competition
	if r == (TempoRange{}) {
		r = d.Usual
	}
	return (r.Min + r.Max) / 2
}

// BarsPerMinute gives t as the trade does.
func (d *Dance) BarsPerMinute(t Tempo) float64 { return t.Float() / float64(d.Metre.Beats) }

// TempoText writes t in bars a minute, "28 bars/min".
func (d *Dance) TempoText(t Tempo) string {
	return trimNumber(d.BarsPerMinute(t)) + " bars/min"
}

// RangeText writes r in bars a minute, "28–32 bars/min".
func (d *Dance) RangeText(r TempoRange) string {
	return trimNumber(d.BarsPerMinute(r.Min)) + "–" + trimNumber(d.BarsPerMinute(r.Max)) + " bars/min"
}

// parseSaying reads "4 & 1 = cha cha cha".
func parseSaying(text string) (Saying, bool) {
	counts, words, ok := strings.Cut(text, "=")
	s := Saying{Counts: strings.Fields(counts), Words: strings.Fields(words)}
	if !ok || len(s.Counts) == 0 || len(s.Counts) != len(s.Words) {
		return Saying{}, false
	}
	for i, text := range s.Counts {
		c, ok := ParseCount(text)
		if !ok {
			return Saying{}, false
		}
		s.Counts[i] = c.String()
		s.Words[i] = plain(s.Words[i])
	}
	return s, true
}

// plainTempi are those of a dance of which nothing is known.
var plainTempi = TempoRange{100 * BeatPerMinute, 140 * BeatPerMinute}

// plainDance is what a sheet is read with when its own dance is not known, so
// that everything else in it can still be checked.
func plainDance() *Dance {
	return &Dance{
		Name: "?", Metre: Metre{4, 4}, Begins: 1, Slow: 2 * Beat, Quick: Beat, And: Beat / 2, A: Beat / 4,
		PhraseBars: 8, Accents: []int{1}, Usual: plainTempi,
		Stride: plainStride,
	}
}
