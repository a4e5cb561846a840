package choreography

import (
	"slices"

	"dance.example/slowquick/routine"
)

// Drill is a figure as it is practised by itself.
type Drill struct {
	Name     string
	Returns  bool           // it ends so that it can begin again at once
	Score    *routine.Score // with the drill's name as its title
	Findings []routine.Finding
}

// NewDrill returns a drill of a figure: the figure and what leads back to it, until they fill
// whole bars. If nothing of all leads back, the figure is danced once.
func NewDrill(d *routine.Dance, fig *routine.Figure, all []*routine.Figure) Drill {
	var drill Drill
	var items []routine.Item
	if figs := Repeat(d, fig, all); figs == nil {
		drill.Name = "drill: " + fig.Name + ", then walk back in a rest"
		items = []routine.Item{routine.Whole(fig)}
	} else {
		drill.Returns = true
		drill.Name = "drill: " + Names(figs)
		items = inWholeBars(d, figs)
	}
	drill.Score, drill.Findings = danced(d, items)
	drill.Findings = slices.DeleteFunc(drill.Findings, turnsWithIt)
	drill.Score.Title = drill.Name
	return drill
}

// turnsWithIt: a figure that turns goes against the line of dance some of the time when it is repeated.
func turnsWithIt(f routine.Finding) bool { return f.Code == "against-line-of-dance" }

// comesRound reports whether figures can be danced twice, and begun once more.
func comesRound(d *routine.Dance, figs []*routine.Figure) bool {
	parted := Parted(d, slices.Concat(figs, figs, figs[:1])...)
	return !slices.ContainsFunc(parted, func(f routine.Finding) bool { return !turnsWithIt(f) })
}

// tries is among how many links, which lead from figure to figure, one is looked for that leads all the way round.
const tries = 8

// mostRounds is the most times that figures are danced to fill whole bars.
const mostRounds = 4

// inWholeBars repeats figures until they end with a bar. Otherwise, danced again at once, they
// would shift against the music.
func inWholeBars(d *routine.Dance, figs []*routine.Figure) (items []routine.Item) {
	var length routine.Beats
	for _, f := range figs {
		items = append(items, routine.Whole(f))
		length += f.Length(0, len(f.Rows))
	}
	rounds := 1
	for n := range mostRounds {
		if routine.Beats(n+1)*length%d.Metre.Bar() == 0 {
			rounds = n + 1
			break
		}
	}
	if len(items) == 1 {
		items[0].Times = rounds
		return items
	}
	return slices.Repeat(items, rounds)
}

// Repeat returns what to dance to repeat a figure over and over: the figure, and what leads
// back to it. That is nothing if it can follow itself, its mirror image if all has one, or
// else the easiest of the shortest links, of figures no harder than fig if those lead back.
// Repeat returns nil if nothing leads back.
func Repeat(d *routine.Dance, fig *routine.Figure, all []*routine.Figure) []*routine.Figure {
	if len(Parted(d, fig, fig)) == 0 {
		return []*routine.Figure{fig}
	}
	for _, other := range all {
		if mirrors(fig, other) && len(Parted(d, fig, other, fig)) == 0 {
			return []*routine.Figure{fig, other}
		}
	}
	join := Between(d, fig, fig)
	join.others = nil // it is danced alike each time
	harder := func(other *routine.Figure) bool { return other.Level > fig.Level }
	for _, from := range [][]*routine.Figure{slices.DeleteFunc(slices.Clone(all), harder), all} {
		for _, link := range join.Link(from, tries) {
			figs := append([]*routine.Figure{fig}, link...)
			if comesRound(d, figs) {
				return figs
			}
		}
	}
	return nil
}
