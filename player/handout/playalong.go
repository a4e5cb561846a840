package handout

import (
	"bytes"
	"context"
	"crypto/sha256"
	_ "embed"
	"encoding/base64"
	"errors"
	"fmt"
	"html/template"
	"io"
	"math"
	"slices"
	"sync"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/player"
	"dance.example/slowquick/player/drawing"
	"dance.example/slowquick/player/handout/encoder"
	"dance.example/slowquick/player/plan"
	"dance.example/slowquick/routine"
	"dance.example/slowquick/routine/floor"
	"dance.example/slowquick/routine/motion"
)

//go:embed playalong.html
var playAlongText string

//go:embed playalong.css
var playAlongStyle string

//go:embed playalong.js
var playAlongScript string

var playAlongTemplate = sync.OnceValue(func() *template.Template {
	return template.Must(template.New("playalong").Parse(playAlongText))
})

// mostPlayed is the longest track that a page holds, in seconds: it is all in memory, here and in a
// phone.
const mostPlayed = 30 * 60

// errTooLongToPlay is returned for a track that a page can't hold.
var errTooLongToPlay = errors.New("the track is longer than the 30 minutes that a page holds: dance a part, or fewer times")

// playAlong is a page that plays a routine.
type playAlong struct {
	*programme
	Figures []playedFigure // as they are danced, each once
	Lines   []playedLine
	Dancers []dancer
	Grid    template.HTMLAttr
	Room    string // the view box of the moving picture
	Score   playedScore

	Style  template.CSS
	Script template.JS
	Policy string
	Sound  template.HTMLAttr
	Length string
	Size   string // of the track in the page
}

// playedFigure is a figure, or the steps of it that are danced.
type playedFigure struct {
	Number   int // from 1
	Name     string
	Rows     []playedRow
	Drawings []template.HTML
	Said     string // what they show, in words

	passage int // the first that dances it
}

type playedRow struct {
	Number int // in the figure's chart, from 1
	Count  string
	Steps  []playedStep
}

type playedStep struct{ Who, Words string }

// playedLine is a line of the order, and the figure it begins with.
type playedLine struct {
	orderItem
	Begins int // a figure's number
}

// dancer is a partner in the moving picture.
type dancer struct {
	Name       string
	Ball, Heel template.HTMLAttr // the edges of a right foot
}

// playedScore is what the page's script follows.
type playedScore struct {
	Counts []playedCount `json:"counts"`
	End    float64       `json:"end"`   // of the last step, in seconds of the track
	First  float64       `json:"first"` // the beat of the first pose
	Last   float64       `json:"last"`  // the beat on which the routine ends
	Up     int           `json:"up"`    // how far the hall is turned in the picture, in degrees to the right
	Poses  [][]int       `json:"poses"` // posesPerBeat for each beat
	Each   int           `json:"each"`
}

// playedCount is a moment at which something is counted or stepped.
type playedCount struct {
	At     float64 `json:"at"` // seconds of the track
	Beat   float64 `json:"beat"`
	Said   string  `json:"said"`
	Figure int     `json:"figure"` // the one that is danced, or counted in
	Step   int     `json:"step"`   // that began last in the figure; 0 in a lead-in
	Turn   int     `json:"turn"`   // which passage it is of all that are danced, repeats included
	Line   int     `json:"line"`   // of the order
}

// PlayAlong writes a page that plays the track and shows each step as it sounds, in the chart, in the
// drawing and with feet that move. The page is one file that needs no other: its script follows the
// track's own clock. Without scripts it still is a page to read, with the track. The track is FLAC, or what p
// compresses unless it is nil.
func (t ClickTrack) PlayAlong(ctx context.Context, w io.Writer, p *encoder.Program, timeline *player.Timeline) error {
	if err := t.playAlong(ctx, w, p, timeline); err != nil {
		return fmt.Errorf("write page: %w", err)
	}
	return nil
}

// FitsPage reports whether a page can hold the track.
func (t ClickTrack) FitsPage(timeline *player.Timeline) bool {
	return t.frames(t.course(t.Rate, t.Sounds, timeline), timeline) <= mostPlayed*int64(t.Rate)
}

func (t ClickTrack) playAlong(ctx context.Context, w io.Writer, program *encoder.Program, timeline *player.Timeline) error {
	if !t.FitsPage(timeline) {
		return errTooLongToPlay
	}
	o := t.Options
	o.Before = t.Before(timeline)
	timing, err := NewTiming(timeline, &o)
	if err != nil {
		return err
	}
	var sound bytes.Buffer
	name, media := "FLAC", "audio/flac"
	if program == nil {
		err = t.FLAC(&sound, timeline)
	} else {
		name, media = program.Format().String(), program.Format().Type()
		err = t.Compressed(ctx, &sound, program, timeline)
	}
	if err != nil {
		return err
	}
	p := &playAlong{
		programme: newProgramme(timeline, o),
		Style:     template.CSS(playAlongStyle), Script: template.JS(playAlongScript),
		Policy: fmt.Sprintf("default-src 'none'; media-src data: blob:; style-src %s; script-src %s", fingerprint(playAlongStyle), fingerprint(playAlongScript)),
		Sound:  template.HTMLAttr(`src="data:` + media + `;base64,` + base64.StdEncoding.EncodeToString(sound.Bytes()) + `"`),
		Length: audio.Clock(timing.End), Size: fmt.Sprintf("%s of %.1f MB", name, float64(sound.Len())/1e6),
	}
	numbers := p.figures()
	p.lines(numbers)
	p.Score.follow(timing, numbers)
	p.picture()
	return playAlongTemplate().Execute(w, p)
}

// fingerprint names a script or a style in a page's policy.
//
// Source: W3C, Content Security Policy Level 3, 2.3.1.
func fingerprint(text string) string {
	sum := sha256.Sum256([]byte(text))
	return "'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
}

// figures adds the figures, and returns the number of each passage's.
func (p *playAlong) figures() (numbers []int) {
	s, drawer := p.timeline.Score, drawing.New(p.path)
	numbers = make([]int, len(s.Passages))
	from, to := p.set.passages(p.timeline)
	for i := from; i < to; i++ {
		is := &s.Passages[i]
		k := slices.IndexFunc(p.Figures, func(f playedFigure) bool {
			was := &s.Passages[f.passage]
			return was.Figure == is.Figure && was.From == is.From && was.To == is.To
		})
		if k < 0 {
			k = len(p.Figures)
			p.Figures = append(p.Figures, p.figure(k+1, i, drawer))
		}
		numbers[i] = k + 1
	}
	return numbers
}

func (p *playAlong) figure(number, passage int, drawer *drawing.Drawer) playedFigure {
	is := &p.timeline.Score.Passages[passage]
	f := playedFigure{Number: number, Name: is.Name(), Said: drawing.Said(p.path, passage, p.set.Shown), passage: passage}
	if text := is.Figure.Differs(); text != "" {
		f.Name += " (" + text + ")"
	}
	for row := is.From; row < is.To; row++ {
		r := &is.Figure.Rows[row]
		out := playedRow{Number: row + 1, Count: r.Count.String()}
		for _, q := range p.set.Partners() {
			step := playedStep{Who: q.String()}
			if r.Written[q] {
				step.Words = r.Steps[q].String()
			}
			out.Steps = append(out.Steps, step)
		}
		f.Rows = append(f.Rows, out)
	}
	for _, d := range drawer.Figure(passage, drawing.Options{Shown: p.set.Shown, Up: plan.Behind.Up(p.path, passage, p.set.Shown), Widths: []float64{narrow}, Height: tallest}) {
		f.Drawings = append(f.Drawings, template.HTML(d.Live(hidden))) // a drawing escapes its text
	}
	return f
}

// lines says with which figure each line of the order begins.
func (p *playAlong) lines(numbers []int) {
	from, to := p.set.passages(p.timeline)
	for _, o := range p.Order {
		line := playedLine{orderItem: o}
		for i := to - 1; i >= from; i-- {
			if p.timeline.Score.Passages[i].Item+1 == o.Number {
				line.Begins = numbers[i]
			}
		}
		p.Lines = append(p.Lines, line)
	}
}

// follow lays out the counts.
func (s *playedScore) follow(r *Timing, numbers []int) {
	s.End = thousandth(r.End)
	turn, step := -1, 0
	for i := range r.Counts {
		c := &r.Counts[i]
		event := c.Event
		if event < 0 { // what is counted in
			for k := i; event < 0; k++ {
				event = r.Counts[k].Event
			}
			step = 0
		}
		if c.Begins || turn < 0 {
			turn, step = turn+1, 0
		}
		e := &r.Timeline.Events[event]
		if c.Event >= 0 && e.Row >= 0 {
			step = e.Row + 1
		}
		s.Counts = append(s.Counts, playedCount{
			At: thousandth(c.Seconds), Beat: thousandth(c.Beat.Float()), Said: c.Said,
			Figure: numbers[e.Passage], Step: step, Turn: turn, Line: r.Timeline.Score.Passages[e.Passage].Item + 1,
		})
	}
}

func thousandth(f float64) float64 { return math.Round(f*1000) / 1000 }

// posesPerBeat is how many poses the picture has for each beat; the script moves evenly between them.
const posesPerBeat = 6

// picture fills in how the couple moves.
func (p *playAlong) picture() {
	for _, q := range p.set.Partners() {
		ball, heel := drawing.Sole(q)
		p.Dancers = append(p.Dancers, dancer{q.String(), outline(ball), outline(heel)})
	}
	s := &p.Score
	part := p.set.part(p.timeline)
	first, _ := p.set.passages(p.timeline)
	s.Each, s.First, s.Last = posesPerBeat, part.From.Float()-1, part.To.Float()
	s.Up = 45 * int(routine.Turn(routine.Centre)-routine.Turn(plan.Behind.Up(p.path, first, p.set.Shown)))
	m := motion.New(p.path)
	if m == nil {
		return
	}
	begins, ends := m.Before(part.From.Float()), m.Before(part.To.Float())
	length := 60 / p.timeline.OwnTempo().Float()
	var reaches []float64
	for k := 0; k <= int(s.Last-s.First)*posesPerBeat; k++ {
		at := s.First + float64(k)/posesPerBeat
		scene := m.At(min(max(at, begins), ends), length)
		s.Poses = append(s.Poses, pose(&scene))
		reaches = append(reaches, reach(&scene))
	}
	slices.Sort(reaches)
	half := int(max(reaches[len(reaches)*9/10], 60)) + 15 // a long step may leave the picture for a moment
	p.Room = fmt.Sprintf("%d %d %d %d", -half, -half, 2*half, 2*half)
	var grid bytes.Buffer
	for k := -6; k <= 6; k++ {
		fmt.Fprintf(&grid, "M-600 %[1]dH600M%[1]d -600V600", 100*k)
	}
	p.Grid = template.HTMLAttr(`d="` + grid.String() + `"`)
}

// outline returns the attribute of a path around places, in tenths of centimetres.
func outline(places []floor.Point) template.HTMLAttr {
	var d bytes.Buffer
	for i, at := range places {
		fmt.Fprintf(&d, "%c%.1f %.1f", "ML"[min(i, 1)], at.X, at.Y)
	}
	return template.HTMLAttr(`d="` + d.String() + `Z"`)
}

// pose lists where the partners are, for each the body and both feet: centimetres, degrees, and for
// a foot the per cent of its lift and weight.
func pose(s *motion.Scene) (list []int) {
	add := func(p motion.Pose) {
		list = append(list, int(math.Round(p.At.X)), int(math.Round(p.At.Y)), int(math.Round(45*p.Angle)))
	}
	for q := range s.Couple {
		d := &s.Couple[q]
		add(d.Body)
		for i := range d.Feet {
			f := &d.Feet[i]
			add(f.Pose)
			list = append(list, int(math.Round(100*f.Lift)), int(math.Round(100*f.Weight)))
		}
	}
	return list
}

// reach returns how far a foot is from the middle of the couple, in centimetres.
func reach(s *motion.Scene) (most float64) {
	middle := s.Couple[0].Body.At.Plus(s.Couple[1].Body.At).Times(0.5)
	for q := range s.Couple {
		for i := range s.Couple[q].Feet {
			most = max(most, s.Couple[q].Feet[i].At.Distance(middle))
		}
	}
	return most
}
