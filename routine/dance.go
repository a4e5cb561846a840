package routine

import (
	"cmp"
	"fmt"
	"strings"
)

// Metre is a dance's metre: Beats beats to a bar, each a 1/Unit note.
type Metre struct {
	Beats int `json:"beats"`
	Unit  int `json:"unit"`
}

// String returns m as it is printed, "3/4".
func (m Metre) String() string { return fmt.Sprintf("%d/%d", m.Beats, m.Unit) }

// Bar returns the length of a bar.
func (m Metre) Bar() Beats { return Beats(m.Beats) * Beat }

// BarNumber returns the number of the bar in which a place lies; bar 1 begins at beat 0.
func (m Metre) BarNumber(at Beats) int { return int(at.Floor(m.Bar())/m.Bar()) + 1 }

// BeatNumber returns the number, from 1, of a place's beat within its bar.
func (m Metre) BeatNumber(at Beats) int { return int(at.Into(m.Bar())/Beat) + 1 }

// Dance is what all figures of a dance have in common.
type Dance struct {
	Name        string
	Aliases     []string
	Metre       Metre
	Begins      int   // the count on which figures begin, from 1
	Slow, Quick Beats // the values of S and Q
	And, A      Beats // how much & and a take from the count before them

	// FigureNumbers says that numbers count the figure's own beats, as in jive, where "3 a 4" may
	// follow "3 a 4". Otherwise a number names a beat of the bar.
	FigureNumbers bool

	PhraseBars  int      // bars in a phrase
	Accents     []int    // beats of the bar that sound accented, from 1
	Sayings     []Saying // how a run of counts is said
	Usual       TempoRange
	Competition TempoRange // zero if there is none

	Family     Family
	UsualStart *Alignment // of the leader; nil if there is none

	// Sequences are figures often danced one after the other, the most usual first. Each is named as
	// [Figure.Named] finds it.
	Sequences   [][]string
	sequencesAt []extent

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

// Tempo returns the tempo for a sheet that names none: the middle of the competition range, or of the
// usual range if there is none.
func (d *Dance) Tempo() Tempo {
	r := cmp.Or(d.Competition, d.Usual)
	return (r.Min + r.Max) / 2
}

// BarsPerMinute returns t in bars a minute, as the trade counts.
func (d *Dance) BarsPerMinute(t Tempo) float64 { return t.Float() / float64(d.Metre.Beats) }

// TempoText returns t in bars a minute, "28 bars/min".
func (d *Dance) TempoText(t Tempo) string {
	return trimNumber(d.BarsPerMinute(t)) + " bars/min"
}

// RangeText returns r in bars a minute, "28–32 bars/min".
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
		s.Words[i] = Plain(s.Words[i])
	}
	return s, true
}

// plainTempi is the usual range of an unknown dance.
var plainTempi = TempoRange{100 * BeatPerMinute, 140 * BeatPerMinute}

// plainDance returns the dance that stands in for an unknown one, so that the rest of the sheet can
// still be checked.
func plainDance() *Dance {
	return &Dance{
		Name: "?", Metre: Metre{4, 4}, Begins: 1, Slow: 2 * Beat, Quick: Beat, And: Beat / 2, A: Beat / 4,
		PhraseBars: 8, Accents: []int{1}, Usual: plainTempi,
		Stride: plainStride,
	}
}
