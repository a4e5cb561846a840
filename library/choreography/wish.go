package choreography

import (
	"cmp"
	"errors"
	"slices"

	"dance.example/slowquick/routine"
)

// Wish is what a routine should be like.
type Wish struct {
	Bars  int                // its length, 1 to MostBars
	Level int                // the highest teaching level; 0 for any
	Faces *routine.Alignment // the leader's alignment at the start; nil for the dance's usual one
	Seed  uint64             // the same wish with the same seed gives the same routine
	Floor routine.Room       // zero for any; on a floor, a dance that travels takes the corners

	With  []*routine.Figure // figures that it must have
	Known []*routine.Figure // the only others that it may have; nil for all
	New   int               // how many figures it should have besides those of Known

	Family routine.Family // the only one it may have; zero for the dance's own, or that of With's figures
}

// ErrNone says that no routine was found that fulfils a wish.
var ErrNone = errors.New("no order of figures fills these bars")

// The longest routine that Compose returns, and how many figures may be asked for, with new ones.
const (
	MostBars = 256
	MostWith = 8
)

// allows reports whether a figure is of the family of a wish.
func (w *Wish) allows(d *routine.Dance, fig *routine.Figure) bool {
	family := w.Family
	for _, with := range w.With {
		family = cmp.Or(family, with.Family)
	}
	family, own := cmp.Or(family, d.Family), cmp.Or(fig.Family, d.Family)
	return family == routine.AnyFamily || own == family
}

// among returns the figures of all that a wish allows.
func among(all []*routine.Figure, w *Wish) []*routine.Figure {
	return slices.DeleteFunc(slices.Clone(all), func(fig *routine.Figure) bool {
		may := (w.Level == 0 || fig.Rank() <= w.Level) && (w.Known == nil || slices.Contains(w.Known, fig))
		return !may && !slices.Contains(w.With, fig)
	})
}

// UpTo returns the figures up to a teaching level; all of them if that is 0.
func UpTo(level int, all []*routine.Figure) []*routine.Figure {
	return slices.DeleteFunc(slices.Clone(all), func(f *routine.Figure) bool { return level > 0 && f.Rank() > level })
}

func (w *Wish) length(d *routine.Dance) routine.Beats { return routine.Beats(w.Bars) * d.Metre.Bar() }

// includes returns a bit for each wished figure that a move has.
func (w *Wish) includes(m *move) (bits uint8) {
	for i, fig := range w.With {
		for _, ways := range m.pieces {
			if ways[0].figure == fig {
				bits |= 1 << i
			}
		}
	}
	return bits
}

func (w *Wish) includesAll() uint8 { return 1<<len(w.With) - 1 }
