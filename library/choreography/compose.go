package choreography

import (
	"cmp"
	"fmt"
	"math/rand/v2"
	"slices"

	"dance.example/slowquick/routine"
)

// How many plans are filled before the best is taken, how many are tried for that, and how many choices
// of new figures.
const (
	goodPlans = 12
	nearly    = 4  // points less than the best, which is good enough
	farthest  = 10 // the same if there are fewer than choices otherwise
	choices   = 4
	mostPlans = 40
	vainPlans = 6 // after so many without success, none more
	mostNews  = 6
)

// Compose returns a routine of figures in all, all of d and in order from easy to hard, that fills the
// bars of a wish. It plans before it fills: the routine opens as the dance usually does, its figures
// stand in sets, its theme comes back, phrases close where the opening could be danced, and corners are
// taken where the floor ends. Several plans are filled, and the best is returned. A plan that can't be
// filled is given up piece by piece, but nothing goes against the line of dance. If no order fits, the
// error is [ErrNone].
func Compose(d *routine.Dance, all []*routine.Figure, w Wish) (*Routine, error) {
	if w.Bars < 1 || w.Bars > MostBars || len(w.With)+w.New > MostWith {
		return nil, ErrNone
	}
	if w.Faces == nil {
		if w.Faces = d.UsualStart; w.Faces == nil && d.Travels {
			w.Faces = &routine.Alignment{Stand: routine.Facing, To: routine.LOD}
		}
	}
	all = ofFamily(d, all, w.family(d, all))
	least := 1
	for _, taught := range news(all, &w) {
		with := w
		with.With = append(slices.Clip(w.With), taught...)
		figs := among(all, &with)
		if least = leastBars(d, figs); w.Bars%least != 0 {
			continue
		}
		if r := compose(d, figs, &with, least); r != nil {
			r.taught = taught
			return r, nil
		}
	}
	if w.Bars%least != 0 {
		return nil, fmt.Errorf("%w: these figures only fill multiples of %d bars", ErrNone, least)
	}
	return nil, ErrNone
}

// news returns choices of new figures: at random, but the easiest first.
func news(all []*routine.Figure, w *Wish) [][]*routine.Figure {
	if w.New == 0 {
		return [][]*routine.Figure{nil}
	}
	random := rand.New(rand.NewPCG(w.Seed, 0))
	left := slices.DeleteFunc(UpTo(w.Level, all), func(fig *routine.Figure) bool {
		return slices.Contains(w.Known, fig) || slices.Contains(w.With, fig)
	})
	slices.SortStableFunc(left, func(a, b *routine.Figure) int { return cmp.Compare(a.Rank(), b.Rank()) })
	var choices [][]*routine.Figure
	for n := 1; n <= mostNews && len(left) >= w.New; n++ {
		easy := min(len(left), n*w.New+2)
		var choice []*routine.Figure
		for _, i := range random.Perm(easy)[:w.New] {
			choice = append(choice, left[i])
		}
		choices = append(choices, choice)
	}
	return choices
}

// compose returns the best routine of figures, which only fill multiples of the least bars; nil if there is
// none.
func compose(d *routine.Dance, figs []*routine.Figure, w *Wish, least int) *Routine {
	start := routine.Outcome{}
	if w.Faces != nil {
		start = routine.Opening(*w.Faces)
	}
	plan, phrase := planned(d, least, w.Bars)
	inSets, alone := newGraph(d, start, figs, true), (*graph)(nil)
	for _, r := range leniencies(plan[0].to, routine.Beats(phrase)*d.Metre.Bar()) {
		g := inSets
		if !r.sets {
			if alone == nil {
				alone = newGraph(d, start, figs, false)
			}
			g = alone
		}
		if best := best(g, figs, w, plan, r); best != nil {
			return best
		}
	}
	return nil
}

// leniencies returns the rules that a routine should keep to, the strictest first.
func leniencies(section, phrase routine.Beats) []rules {
	list := []rules{
		{phrase: phrase, unit: section, again: true, returns: true, corners: true, sets: true, opens: asUsual},
		{phrase: phrase, unit: phrase, again: true, returns: true, corners: true, sets: true, opens: asUsual},
	}
	for _, r := range []rules{
		{returns: true, corners: true, sets: true, opens: asUsual},
		{returns: true, corners: true, opens: asUsual},
		{returns: true, corners: true, sets: true, opens: asSequence},
		{sets: true, opens: asUsual},
		{opens: asUsual},
		{},
	} {
		for _, again := range []bool{true, false} {
			r.again = again
			r.phrase = phrase
			list = append(list, r)
			r.phrase = 0
			list = append(list, r)
		}
	}
	return append(list, rules{anyRow: true})
}

// best returns the best of some routines that keep to rules; nil if there is none.
func best(g *graph, figs []*routine.Figure, w *Wish, plan []section, r rules) *Routine {
	starts := openers(g, figs, r.opens)
	var fillable []*composer
	usual := 0
	for i, opener := range starts {
		if i > 0 && opener.first().figure != starts[i-1].first().figure {
			usual++
		}
		c := &composer{graph: g, wish: w, rules: r, plan: plan, opener: opener, usual: usual, fills: map[spot]bool{}, homes: map[int]bool{}}
		if c.canFill(c.start()) {
			fillable = append(fillable, c)
		}
	}
	if len(fillable) == 0 {
		return nil
	}
	for parts := routine.Beats(mostShare); parts > 1 || parts == 1 && r.anyRow; parts-- {
		if best := bestOf(fillable, parts); best != nil {
			return best
		}
	}
	return nil
}

// bestOf returns one of some routines in which no figure takes more than its share, one of so many parts: by the
// seed, any that is nearly as good as the best. It returns nil if there is none.
func bestOf(fillable []*composer, parts routine.Beats) *Routine {
	var good []*Routine
	met := map[*move]int{}
	for n := range uint64(mostPlans) {
		c := fillable[int(n)%len(fillable)]
		c.share, c.met = c.total()/parts, met
		if n >= vainPlans && len(good) == 0 {
			break
		}
		if !c.try(rand.New(rand.NewPCG(c.wish.Seed, n))) {
			continue
		}
		for i := range c.steps {
			met[c.steps[i].move]++
		}
		made := c.routine()
		if slices.ContainsFunc(good, made.same) {
			continue
		}
		made.Score = c.judge(made)
		if good = append(good, made); len(good) == goodPlans {
			break
		}
	}
	if good = nearlyBest(good); len(good) == 0 {
		return nil
	}
	return good[rand.New(rand.NewPCG(fillable[0].wish.Seed, mostPlans)).IntN(len(good))]
}

// nearlyBest returns the routines that are nearly as good as the best, and as many of the next best as make
// enough to choose from.
func nearlyBest(good []*Routine) []*Routine {
	slices.SortStableFunc(good, func(a, b *Routine) int { return cmp.Compare(b.Score.Sum(), a.Score.Sum()) })
	n := 0
	for _, r := range good {
		if behind := good[0].Score.Sum() - r.Score.Sum(); behind <= nearly || behind <= farthest && n < choices {
			n++
		}
	}
	return good[:n]
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
