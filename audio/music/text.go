package music

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Text writes the beats of a grid, a line for each: when it is, in seconds, and its
// number in the bar.
//
//	0.512000	1
//	1.024000	2
func (g Grid) Text() string {
	var out strings.Builder
	for i, s := range g.Seconds() {
		fmt.Fprintf(&out, "%.6f\t%d\n", s, g.Beats[i].Number)
	}
	return out.String()
}

// mostBeats is how many a text may have: five a second, for an hour.
const mostBeats = 18000

// ParseGrid reads beats as [Grid.Text] writes them, for a song of so many frames;
// what follows a # is a remark. A bar has as many beats as the highest number. The
// error names the line.
func ParseGrid(text string, rate int, frames int64) (Grid, error) {
	g := Grid{Rate: rate, Frames: frames}
	n := 0
	for line := range strings.Lines(text) {
		n++
		line, _, _ = strings.Cut(line, "#")
		words := strings.Fields(line)
		if len(words) == 0 {
			continue
		}
		if len(words) != 2 {
			return Grid{}, fmt.Errorf("line %d: %q is not a time in seconds and a beat's number", n, strings.TrimSpace(line))
		}
		seconds, err := strconv.ParseFloat(words[0], 64)
		frame := int64(math.Round(seconds * float64(rate)))
		if err != nil || !(seconds >= 0) || seconds > 24*3600 || frame >= frames {
			return Grid{}, fmt.Errorf("line %d: %q is no time in the song, in seconds", n, words[0])
		}
		number, err := strconv.Atoi(words[1])
		if err != nil || number < 1 || number > 16 {
			return Grid{}, fmt.Errorf("line %d: %q is no number of a beat in a bar, 1 to 16", n, words[1])
		}
		if i := len(g.Beats); i > 0 && g.Beats[i-1].Frame >= frame {
			return Grid{}, fmt.Errorf("line %d: the beat is not after the one before", n)
		}
		if len(g.Beats) == mostBeats {
			return Grid{}, fmt.Errorf("line %d: more than %d beats", n, mostBeats)
		}
		g.Beats = append(g.Beats, Beat{frame, number})
		g.Metre = max(g.Metre, number)
	}
	if len(g.Beats) < 2 {
		return Grid{}, fmt.Errorf("there are %d beats, not at least 2", len(g.Beats))
	}
	g.Tempo = tempoOf(g.Seconds())
	if slow, fast := g.Span(); fast/slow < 1.01 {
		g.SteadyFrom, g.SteadyTo = g.Beats[0].Frame, g.Beats[len(g.Beats)-1].Frame
	}
	g.BeatGiven, g.BarGiven = true, true
	return g, nil
}
