package library

import (
	"strings"

	"dance.example/slowquick/routine"
)

// Entry is a figure as programs read it.
type Entry struct {
	Dance     string   `json:"dance"`
	Name      string   `json:"name"`
	AlsoNamed []string `json:"alsoCalled,omitempty"`
	Level     int      `json:"level"`
	Starts    string   `json:"starts"`
	Ends      string   `json:"ends"`
	Counts    []string `json:"counts"`
	Beats     float64  `json:"beats"`
	Parts     []string `json:"parts,omitempty"`
	Begun     []string `json:"begun,omitempty"`
	Family    string   `json:"family,omitempty"`
	Ways      []string `json:"ways,omitempty"` // in which it is danced besides
	Source    string   `json:"source"`
	Rows      []Row    `json:"rows"`
	Origin
}

// Row is a row of a figure's chart.
type Row struct {
	Count    string  `json:"count"`
	Beat     float64 `json:"beat"` // from the figure's first step
	Leader   string  `json:"leader"`
	Follower string  `json:"follower"`
}

// Entry returns one of the chapter's figures as programs read it.
func (c *Chapter) Entry(fig *routine.Figure) Entry {
	e := Entry{
		Dance: c.Dance.Name, Name: fig.Name, AlsoNamed: fig.Aliases, Level: fig.Level, Source: fig.Source,
		Starts: fig.Starts.String(), Ends: fig.Ends.String(), Beats: fig.Length(0, len(fig.Rows)).Float(),
		Family: fig.Family.String(), Origin: c.Origins[fig],
	}
	for _, part := range fig.Parts {
		e.Parts = append(e.Parts, part.String())
	}
	for _, a := range fig.Begun {
		e.Begun = append(e.Begun, a.String())
	}
	for _, way := range fig.Ways()[1:] {
		e.Ways = append(e.Ways, way.Differs())
	}
	for i := range fig.Rows {
		r := &fig.Rows[i]
		e.Counts = append(e.Counts, r.Count.String())
		e.Rows = append(e.Rows, Row{r.Count.String(), (r.At - fig.Rows[0].At).Float(), r.Steps[0].String(), r.Steps[1].String()})
	}
	return e
}

// Search returns the figures whose names, or whose dance, contain all words.
func (c *Chapter) Search(words []string) (found []*routine.Figure) {
	for _, fig := range c.Figures {
		key := routine.Key(strings.Join(append(fig.Names(), c.Dance.Name), " "))
		hasAll := true
		for _, w := range words {
			hasAll = hasAll && strings.Contains(key, routine.Key(w))
		}
		if hasAll {
			found = append(found, fig)
		}
	}
	return found
}
