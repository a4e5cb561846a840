package choreography

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"

	"dance.example/slowquick/routine"
)

// Wish is what a routine should be like.
type Wish struct {
	Bars  int                // its length, 1 to MostBars
	Level int                // the highest teaching level; 0 for any
	Faces *routine.Alignment // the leader's alignment at the start; nil for any
	Seed  uint64             // the same wish with the same seed gives the same routine
}

// ErrNone says that no routine was found that fulfils a wish.
var ErrNone = errors.New("no order of figures fills these bars")

// MostBars is the length of the longest routine that Compose returns.
const MostBars = 256

// Routine is an order of figures that fulfils a wish.
type Routine struct {
	Figures []*routine.Figure
	Phrased bool // a figure begins on each phrase
	Again   bool // it can be looped
}

// Compose returns a routine of figures in all, all of d, that fills the bars of a wish. If
// possible, each phrase begins with a figure, the routine can be looped, and no figure takes
// more than its share. If no order fits, the error is [ErrNone].
func Compose(d *routine.Dance, all []*routine.Figure, w Wish) (Routine, error) {
	if w.Bars < 1 || w.Bars > MostBars {
		return Routine{}, ErrNone
	}
	c := composer{dance: d, figs: UpTo(w.Level, all), wish: w, pairs: map[[2]*routine.Figure]bool{}}
	for _, phrased := range []bool{true, false} {
		for _, again := range []bool{true, false} {
			c.phrased, c.again, c.fills = phrased, again, map[place]bool{}
			if !c.canFill(c.start()) {
				continue
			}
			for parts := routine.Beats(mostShare); parts >= 1; parts-- {
				c.share = w.length(d) / parts
				if order := c.compose(); order != nil {
					return Routine{order, phrased, again}, nil
				}
			}
		}
	}
	return Routine{}, ErrNone
}

// UpTo returns the figures up to a teaching level; all of them if that is 0.
func UpTo(level int, all []*routine.Figure) []*routine.Figure {
	return slices.DeleteFunc(slices.Clone(all), func(f *routine.Figure) bool { return level > 0 && f.Rank() > level })
}

// UsualBars returns a length for a wish that names none: two phrases, or three or four if the
// figures can't fill two.
func UsualBars(d *routine.Dance, all []*routine.Figure, w Wish) int {
	for phrases := 2; phrases <= 4; phrases++ {
		w.Bars = phrases * d.PhraseBars
		if _, err := Compose(d, all, w); err == nil {
			return w.Bars
		}
	}
	return 2 * d.PhraseBars
}

// BarsNear returns the nearest lengths that can be filled, one below that of a wish and one
// above, within a phrase.
func BarsNear(d *routine.Dance, all []*routine.Figure, w Wish) (bars []int) {
	for _, way := range []int{-1, +1} {
		near := w
		for range d.PhraseBars {
			near.Bars += way
			if _, err := Compose(d, all, near); err == nil {
				bars = append(bars, near.Bars)
				break
			}
		}
	}
	return bars
}

func (w *Wish) length(d *routine.Dance) routine.Beats { return routine.Beats(w.Bars) * d.Metre.Bar() }

const (
	mostShare = 4   // at best, no figure takes more than 1/mostShare of the routine
	inARow    = 2   // how many times a figure may be danced in a row
	attempts  = 20  // random beginnings
	patience  = 200 // figures tried in an attempt, besides four for each bar
)

// place is the outcome so far and how much of the routine is still to be filled.
type place struct {
	outcome routine.Outcome
	left    routine.Beats
	first   *routine.Figure // must be able to follow the end; nil for any
}

// composer searches for one routine.
type composer struct {
	dance   *routine.Dance
	figs    []*routine.Figure
	wish    Wish
	phrased bool          // each phrase begins with a figure
	again   bool          // the first figure can follow the last
	share   routine.Beats // the most one figure may take; each may be danced once anyway

	fills map[place]bool              // whether the rest can be filled at all, ignoring shares
	pairs map[[2]*routine.Figure]bool // whether the second can follow the first

	random *rand.Rand
	tried  int
	order  []*routine.Figure
	taken  map[*routine.Figure]routine.Beats
}

// start returns the place before the first figure.
func (c *composer) start() place {
	from := routine.Outcome{}
	if c.wish.Faces != nil {
		from = routine.Opening(*c.wish.Faces)
	}
	return place{from, c.wish.length(c.dance), nil}
}

func (c *composer) compose() []*routine.Figure {
	for attempt := range uint64(attempts) {
		c.random = rand.New(rand.NewPCG(c.wish.Seed, attempt))
		c.tried, c.order, c.taken = 0, nil, map[*routine.Figure]routine.Beats{}
		if c.fill(c.start()) {
			return c.order
		}
	}
	return nil
}

// step returns the place after dancing a figure; ok is false if it can't be danced there or
// crosses the end of the phrase.
func (c *composer) step(from place, fig *routine.Figure) (to place, ok bool) {
	end, takes, parted := from.outcome.Then(c.dance, fig)
	if len(parted) > 0 || takes <= 0 || takes > c.toBoundary(from.left) {
		return place{}, false
	}
	to = place{end, from.left - takes, from.first}
	if c.again && to.first == nil {
		to.first = fig
	}
	return to, true
}

// toBoundary returns how much is left of the phrase when left is left of the routine.
func (c *composer) toBoundary(left routine.Beats) routine.Beats {
	phrase := routine.Beats(c.dance.PhraseBars) * c.dance.Metre.Bar()
	if phrase == 0 || !c.phrased {
		return left
	}
	danced := c.wish.length(c.dance) - left
	return min(left, phrase-danced%phrase)
}

func (c *composer) canFill(at place) bool {
	if at.left == 0 {
		if at.first == nil {
			return true
		}
		_, _, parted := at.outcome.Then(c.dance, at.first)
		return len(parted) == 0
	}
	known, ok := c.fills[at]
	if ok {
		return known
	}
	for _, fig := range c.figs {
		if to, ok := c.step(at, fig); ok && c.canFill(to) {
			c.fills[at] = true
			return true
		}
	}
	c.fills[at] = false
	return false
}

// fill completes the order from a place and reports whether it could.
func (c *composer) fill(at place) bool {
	if at.left == 0 {
		return len(Parted(c.dance, c.order...)) == 0
	}
	for _, i := range c.choices() {
		fig := c.figs[i]
		to, ok := c.step(at, fig)
		if !ok || !c.mayTake(fig, at.left-to.left) || !c.onTheFloor(fig) || !c.canFill(to) {
			continue
		}
		if c.tried++; c.tried > patience+4*c.wish.Bars {
			return false
		}
		c.order = append(c.order, fig)
		c.taken[fig] += at.left - to.left
		if c.fill(to) {
			return true
		}
		c.order = c.order[:len(c.order)-1]
		c.taken[fig] -= at.left - to.left
	}
	return false
}

// choices returns the indices of the figures in random order. Those danced less tend to
// come first, and those shorter than a bar, which only link others, last.
func (c *composer) choices() []int {
	rank := make([]float64, len(c.figs))
	for i, fig := range c.figs {
		rank[i] = c.random.Float64() + c.taken[fig].Float()/c.share.Float()
		if fig.Length(0, len(fig.Rows)) < c.dance.Metre.Bar() {
			rank[i] += 0.5
		}
	}
	list := make([]int, len(c.figs))
	for i := range list {
		list[i] = i
	}
	slices.SortFunc(list, func(a, b int) int { return cmp.Compare(rank[a], rank[b]) })
	return list
}

// mayTake reports whether a figure has enough of its share left, and has not just been
// danced inARow times.
func (c *composer) mayTake(fig *routine.Figure, beats routine.Beats) bool {
	row := 0
	for n := len(c.order) - 1; n >= 0 && c.order[n] == fig; n-- {
		row++
	}
	return row < inARow && (c.taken[fig] == 0 || c.taken[fig]+beats <= c.share)
}

// onTheFloor reports whether the partners still meet if fig is danced next.
func (c *composer) onTheFloor(fig *routine.Figure) bool {
	if len(c.order) == 0 {
		return true
	}
	pair := [2]*routine.Figure{c.order[len(c.order)-1], fig}
	fits, known := c.pairs[pair]
	if !known {
		fits = len(Parted(c.dance, pair[0], pair[1])) == 0
		c.pairs[pair] = fits
	}
	return fits
}

// Sheet returns the text of a sheet for the routine.
func (r *Routine) Sheet(d *routine.Dance, w Wish) []byte {
	var text bytes.Buffer
	title := d.Name + ", " + routine.Plural(w.Bars, "bar")
	fmt.Fprintf(&text, "---\ndance: %s\ntitle: %s\n", strings.ToLower(d.Name), title)
	if w.Faces != nil {
		fmt.Fprintf(&text, "faces: %s\n", w.Faces.To)
	}
	fmt.Fprintf(&text, "---\n\n# %s\n\n## Order\n\n", title)
	for i, item := 0, 1; i < len(r.Figures); item++ {
		n := i + 1
		for n < len(r.Figures) && r.Figures[n] == r.Figures[i] {
			n++
		}
		fmt.Fprintf(&text, "%d. %s", item, r.Figures[i].Name)
		if n > i+1 {
			fmt.Fprintf(&text, " × %d", n-i)
		}
		fmt.Fprintln(&text)
		i = n
	}
	return text.Bytes()
}
