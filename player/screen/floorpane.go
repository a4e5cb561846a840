package screen

import (
	"cmp"

	"dance.example/slowquick/player"
	"dance.example/slowquick/player/harmless"
	"dance.example/slowquick/player/plan"
	"dance.example/slowquick/player/screen/dots"
	"dance.example/slowquick/player/screen/term"
	"dance.example/slowquick/routine/floor"

	tea "github.com/charmbracelet/bubbletea"
)

// floorPane is the plan of the floor, if it is shown.
type floorPane struct {
	shown bool
	view  plan.View
	path  *floor.Path // of the score that is danced; nil until the plan is shown

	drawing plan.Drawing
	drawn   plan.Scene    // in cells
	cells   [][]plan.Cell // as large as the layout has room
}

// The least window in which the plan is shown, and the least of it.
const (
	floorWidth  = 56
	floorHeight = 16
	floorLines  = 8
	floorRoom   = 30 // columns
)

// floorHidden says why the plan can't be seen where it is shown; "" if it can.
func (d *dance) floorHidden(width, height int) string {
	switch {
	case d.inClass:
		return "a class sees the count alone"
	case !d.hidden.AllSteps():
		return "the plan would show the steps that are hidden: H shows everything"
	case width < floorWidth || height < floorHeight:
		return "the window is too small for the plan of the floor"
	}
	return ""
}

func (d *dance) showFloor() tea.Cmd {
	d.floor.shown = !d.floor.shown
	if d.floor.shown {
		d.news.Say(cmp.Or(d.floorHidden(d.layout.width, d.layout.height), plan.Legend))
	}
	return nil
}

// nextView looks at the floor from elsewhere; what is not shown is shown first.
func (d *dance) nextView() tea.Cmd {
	if !d.floor.shown {
		return d.showFloor()
	}
	if why := d.floorHidden(d.layout.width, d.layout.height); why != "" {
		d.news.Say(why)
		return nil
	}
	if d.floor.view = (d.floor.view + 1) % plan.Views; d.floor.view == plan.Above {
		d.news.Say("one pass of the routine " + d.floor.path.Summary())
	}
	return nil
}

// traceFloor dances the score on the floor, once it is to be seen.
func (d *dance) traceFloor() {
	if score := d.now.Timeline.Score; d.floor.shown && (d.floor.path == nil || d.floor.path.Score != score) {
		d.floor.path = floor.Trace(score)
	}
}

// drawFloor draws the plan, if something of it has changed.
func (d *dance) drawFloor() {
	f, l := &d.floor, &d.layout
	if !l.floor {
		f.cells = nil
		return
	}
	width, height := l.width-l.countWidth, l.lines.floor-1
	if s := d.scene(); s != f.drawn || len(f.cells) != height || len(f.cells[0]) != width {
		f.drawn, f.cells = s, f.drawing.Dots(s, width, height)
	}
}

// scene is where the couple is now: before the first step in a lead-in.
func (d *dance) scene() plan.Scene {
	timeline := d.now.Timeline
	event := d.event()
	e := &timeline.Events[event]
	s := plan.Scene{Path: d.floor.path, Passage: e.Passage, Shown: d.dancers.Each(), View: d.floor.view}
	if d.now.State == player.LeadIn && e.Row >= 0 {
		s.Danced = e.Row - timeline.Score.Passages[e.Passage].From
		return s
	}
	for i := event; i >= 0 && timeline.Events[i].Passage == e.Passage; i-- {
		if row := timeline.Events[i].Row; row >= 0 {
			s.Danced = row - timeline.Score.Passages[e.Passage].From + 1
			break
		}
	}
	return s
}

// arrangeFloor shares a window between the count and the plan.
func (l *layout) arrangeFloor(labels []string) {
	sides := len(l.dancers.Partners())
	l.lines = floorShare(l.height, sides)
	l.countWidth = max(l.width/3, term.LeastWidth(l.longest)+3)
	if l.width-l.countWidth < floorRoom {
		l.countWidth = 2 * nameColumns
	}
	size := term.LetteringFor(labels, l.longest, l.countWidth-3, l.lines.floor-2)
	if size.Readable() {
		l.size = size
		l.draw(labels)
	}
}

// floorShare shares out the lines of a window with the plan.
func floorShare(height, sides int) share {
	var p share
	left := height
	take := taker(&left)
	take(&p.floor, floorLines)
	take(&p.steps, sides)
	take(&p.message, 1)
	take(&p.state, 1)
	take(&p.figure, 1)
	take(&p.help, 1)
	take(&p.title, 1)
	take(&p.floor, max(0, min(left-1, 16-floorLines)))
	take(&p.help, 1)
	take(&p.settings, 1)
	take(&p.after, 1)
	take(&p.next, sides)
	if left > 12 {
		take(&p.counts, 2+sides)
		take(&p.gaps, 3)
	}
	take(&p.floor, left)
	return p
}

// floorView is the count, and the plan beside it.
func (d *dance) floorView() []string {
	l := &d.layout
	left := d.besideFloor()
	lines := make([]string, l.lines.floor)
	for y := range lines {
		r := term.NewRow(l.width)
		left(r, y)
		r.To(l.countWidth)
		if y == 0 {
			r.Put(d.theme.Heading, d.floor.view.Of(d.dancers.Each())).Put(term.Plain, "  (v)")
			if l.width-r.Used() > term.Width(plan.Legend) {
				r.Right(term.Plain, plan.Legend)
			}
		} else {
			dots.Write(r, d.floor.cells[y-1], &d.theme)
		}
		lines[y] = r.String()
	}
	return lines
}

// besideFloor gives what is written to the left of the plan, line by line.
func (d *dance) besideFloor() func(*term.Row, int) {
	l := &d.layout
	count := harmless.Line(d.counted())
	letters := l.letters[count]
	head := "count"
	if d.now.State == player.LeadIn {
		head = "lead-in"
	}
	return func(r *term.Row, y int) {
		switch {
		case y == 0:
			r.Put(term.Plain, head)
		case l.letters == nil && y == 2:
			r.Put(d.theme.Present, " "+count+" ")
		case y-1 < len(letters):
			r.Put(d.theme.Strong, letters[y-1])
		}
	}
}
