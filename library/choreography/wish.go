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

// family returns the family that a wish keeps to. If nothing says so, it is that of most of the figures that belong to one.
func (w *Wish) family(d *routine.Dance, all []*routine.Figure) routine.Family {
	family := w.Family
	for _, with := range w.With {
		family = cmp.Or(family, with.Family)
	}
	if family = cmp.Or(family, d.Family); family != routine.AnyFamily {
		return family
	}
	count := make([]int, len(routine.Families())+1)
	for _, fig := range all {
		if f := fig.Family; f != routine.AnyFamily {
			if count[f]++; count[f] > count[family] || count[f] == count[family] && f < family {
				family = f
			}
		}
	}
	return family
}

// ofFamily returns the figures that go with a family.
func ofFamily(d *routine.Dance, all []*routine.Figure, family routine.Family) []*routine.Figure {
	return slices.DeleteFunc(slices.Clone(all), func(fig *routine.Figure) bool {
		own := cmp.Or(fig.Family, d.Family)
		return own != routine.AnyFamily && own != family
	})
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
