package handout

import (
	"encoding/json"
	"fmt"
	"io"

	"dance.example/slowquick/player"
	"dance.example/slowquick/routine"
)

// document is a timeline as programs read it.
type document struct {
	Title   string        `json:"title"`
	Dance   string        `json:"dance"`
	Metre   routine.Metre `json:"metre"`
	Tempo   routine.Tempo `json:"beatsPerMinute"`
	Start   routine.Beats `json:"start"`
	End     routine.Beats `json:"end"`
	Seconds float64       `json:"seconds"`
	Figures []figure      `json:"figures"`
	Events  []event       `json:"events"`
}

type figure struct {
	Name    string        `json:"name"`
	Item    int           `json:"item"`  // of the order, from 1
	Round   int           `json:"round"` // of its times, from 1
	Start   routine.Beats `json:"start"`
	End     routine.Beats `json:"end"`
	Seconds float64       `json:"seconds"`
}

type event struct {
	Beat     routine.Beats `json:"beat"`
	Length   routine.Beats `json:"length"`
	Seconds  float64       `json:"seconds"` // from the first step
	Bar      int           `json:"bar"`
	BarBeat  int           `json:"barBeat"`
	Phrase   int           `json:"phrase"`
	Split    bool          `json:"split,omitempty"` // between two beats
	Accent   bool          `json:"accent,omitempty"`
	Figure   int           `json:"figure"`         // of figures, from 0
	Step     int           `json:"step,omitempty"` // of the figure, from 1; 0 while a step lasts
	Count    string        `json:"count,omitempty"`
	Slow     string        `json:"slowQuick,omitempty"`
	Words    string        `json:"words,omitempty"`
	Leader   *routine.Step `json:"leader,omitempty"`
	Follower *routine.Step `json:"follower,omitempty"`
}

// JSON writes a timeline with the times that its events have at a per cent of
// its tempo. Beats count from the first of the first bar, seconds from the
// first step.
func JSON(w io.Writer, line *player.Timeline, percent float64) error {
	s := line.Score
	at := func(b routine.Beats) float64 { return line.Seconds(b) * 100 / percent }
	d := document{
		Title: s.Title, Dance: s.Dance.Name, Metre: s.Dance.Metre, Tempo: s.Tempo.Scaled(percent),
		Start: line.Start, End: line.End, Seconds: at(line.End), Figures: []figure{}, Events: []event{},
	}
	for _, p := range s.Passages {
		d.Figures = append(d.Figures, figure{Name: p.Figure.Name, Item: p.Item + 1, Round: p.Round + 1, Start: p.Start, End: p.End, Seconds: at(p.Start)})
	}
	for i := range line.Events {
		e := &line.Events[i]
		out := event{
			Beat: e.At, Length: e.Length, Seconds: at(e.At), Bar: e.Bar, BarBeat: e.Beat, Phrase: e.Phrase, Split: e.Split, Accent: e.Accent,
			Figure: e.Passage, Count: e.Labels.Count, Slow: e.Labels.SlowQuick, Words: e.Labels.Words,
			Leader: e.Steps[routine.Leader], Follower: e.Steps[routine.Follower],
		}
		if e.Row >= 0 {
			out.Step = e.Row + 1
		}
		d.Events = append(d.Events, out)
	}
	enc := json.NewEncoder(w)
	enc.SetIndent("", "  ")
	enc.SetEscapeHTML(false)
	if err := enc.Encode(d); err != nil {
		return fmt.Errorf("write timeline: %w", err)
	}
	return nil
}
