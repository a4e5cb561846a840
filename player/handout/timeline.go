package handout

import (
	_ "embed"
	"encoding/json"
	"fmt"
	"io"

	"dance.example/slowquick/player"
	"dance.example/slowquick/routine"
	"dance.example/slowquick/routine/floor"
)

// TimelineSchema is the JSON Schema (draft 2020-12) of what [JSON] writes.
//
//go:embed timeline.schema.json
var TimelineSchema []byte

// document is a timeline as programs read it; timeline.schema.json describes its parts.
type document struct {
	Version int           `json:"version"`
	Title   string        `json:"title"`
	Dance   string        `json:"dance"`
	Metre   routine.Metre `json:"metre"`
	Tempo   routine.Tempo `json:"beatsPerMinute"`
	Start   routine.Beats `json:"start"`
	End     routine.Beats `json:"end"`
	Seconds float64       `json:"seconds"`
	LeadIn  []leadInBeat  `json:"leadIn"`
	Passes  []passEntry   `json:"passes"`
	Figures []figure      `json:"figures"`
	Events  []event       `json:"events"`
}

type leadInBeat struct {
	Seconds float64 `json:"seconds"`
	Said    string  `json:"said"`
}

type passEntry struct {
	Seconds float64 `json:"seconds"`
	Percent float64 `json:"percent"`
}

type figure struct {
	Name    string        `json:"name"`
	Item    int           `json:"item"`
	Round   int           `json:"round"`
	Start   routine.Beats `json:"start"`
	End     routine.Beats `json:"end"`
	Seconds float64       `json:"seconds"`
	Differs string        `json:"differs,omitempty"` // from the figure as charted
}

type event struct {
	Beat     routine.Beats `json:"beat"`
	Length   routine.Beats `json:"length"`
	Seconds  float64       `json:"seconds"`
	Bar      int           `json:"bar"`
	BarBeat  int           `json:"barBeat"`
	Phrase   int           `json:"phrase"`
	Split    bool          `json:"split,omitempty"`
	Accent   bool          `json:"accent,omitempty"`
	Figure   int           `json:"figure"`
	Step     int           `json:"step,omitempty"`
	Said     string        `json:"said,omitempty"`
	Count    string        `json:"count,omitempty"`
	Slow     string        `json:"slowQuick,omitempty"`
	Words    string        `json:"words,omitempty"`
	Leader   *routine.Step `json:"leader,omitempty"`
	Follower *routine.Step `json:"follower,omitempty"`
	Steps    *couple       `json:"steps,omitempty"`
}

// timelineVersion grows whenever something that was in a document is gone or means something else.
const timelineVersion = 1

// JSON writes a timeline for programs: see [TimelineSchema].
func JSON(w io.Writer, timeline *player.Timeline, o Options) error {
	r, err := NewTiming(timeline, &o)
	if err != nil {
		return fmt.Errorf("write timeline: %w", err)
	}
	s, part, path := timeline.Score, o.part(timeline), floor.Trace(timeline.Score)
	from, to := o.passages(timeline)
	first := &r.RunThroughs[0]
	at := func(b routine.Beats) float64 {
		return (timeline.Seconds(b) - timeline.Seconds(part.From)) * 100 / first.Percent
	}
	d := document{
		Version: timelineVersion, Title: s.Title, Dance: s.Dance.Name, Metre: s.Dance.Metre, Tempo: timeline.OwnTempo().Scaled(first.Percent),
		Start: part.From, End: part.To, Seconds: at(part.To), LeadIn: []leadInBeat{}, Passes: []passEntry{}, Figures: []figure{}, Events: []event{},
	}
	for _, c := range r.Counts {
		if c.Event >= 0 {
			break
		}
		d.LeadIn = append(d.LeadIn, leadInBeat{c.Seconds, c.Said})
	}
	for _, p := range r.RunThroughs {
		d.Passes = append(d.Passes, passEntry{p.Seconds, p.Percent})
	}
	for i := from; i < to; i++ {
		p := &s.Passages[i]
		d.Figures = append(d.Figures, figure{Name: p.Name(), Item: p.Item + 1, Round: p.Round + 1, Start: p.Start, End: p.End, Seconds: at(p.Start), Differs: p.Figure.Differs()})
	}
	for i := range timeline.Events {
		e := &timeline.Events[i]
		if !part.Contains(e.At) {
			continue
		}
		out := event{
			Beat: e.At, Length: e.Length, Seconds: at(e.At), Bar: e.Bar, BarBeat: e.Beat, Phrase: e.Phrase, Split: e.Split, Accent: e.Accent,
			Figure: e.Passage - from, Said: timeline.Said(e.Labels, i, o.Settings.Count), Count: e.Labels.Count, Slow: e.Labels.SlowQuick, Words: e.Labels.Words,
		}
		for _, p := range o.Partners() {
			*[2]**routine.Step{&out.Leader, &out.Follower}[p] = e.Steps[p]
		}
		if e.Row >= 0 {
			out.Step, out.Steps = e.Row+1, newCouple(path, e, &o)
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
