package view

import (
	"dance.example/slowquick/player"
	"dance.example/slowquick/player/screen/cue"
	"dance.example/slowquick/player/screen/floorview"
	"dance.example/slowquick/player/screen/raster"
	"dance.example/slowquick/routine"
	path "dance.example/slowquick/routine/floor"
	"dance.example/slowquick/routine/motion"
)

// floor is the plan of the floor.
type floor struct {
	mode    raster.Mode     // what the terminal can show
	chosen  raster.Raster   // what the dancer wants instead
	choice  bool            // whether anything was chosen
	palette *raster.Palette // of what is shown
	from    floorview.From

	score  *routine.Score // that the motion is of
	loop   player.Interval
	whole  *motion.Motion
	motion *motion.Motion // of the loop
	view   *floorview.View
	shown  [2]bool
	canvas *raster.Canvas
	size   [2]int // of the canvas, in columns and rows

	drawn int    // pictures in real pixels so far
	over  string // the last of them
}

// setMode draws for another terminal.
func (f *floor) setMode(mode raster.Mode) {
	f.mode = mode
	f.redraw()
}

// redraw makes the palette anew.
func (f *floor) redraw() {
	mode := f.mode
	if f.choice {
		mode.Raster = f.chosen
	}
	f.palette, f.canvas, f.view = raster.NewPalette(mode), nil, nil
}

// rasters are the ways to draw, the best first.
var rasters = [...]struct {
	raster.Raster
	name string
}{{raster.Kitty, "pixels"}, {raster.Sixel, "pixels"}, {raster.Blocks, "blocks"}, {raster.Dots, "dots"}}

// available are the indices of rasters that the terminal has.
func (f *floor) available() (list []int) {
	for i, r := range rasters {
		if r.Raster == raster.Blocks || r.Raster == raster.Dots || r.Raster == f.mode.Raster {
			list = append(list, i)
		}
	}
	return list
}

// pictures says how pictures are drawn.
func (f *floor) pictures() string {
	for _, r := range rasters {
		if r.Raster == f.palette.Mode().Raster {
			return r.name
		}
	}
	return ""
}

// nextPictures draws pictures in the next way that the terminal has, or in the one before.
func (f *floor) nextPictures(by int) {
	list := f.available()
	for i, r := range list {
		if rasters[r].Raster == f.palette.Mode().Raster {
			f.chosen, f.choice = rasters[list[((i+by)%len(list)+len(list))%len(list)]].Raster, true
			break
		}
	}
	f.redraw()
}

// follow takes in what is to be shown, before it is drawn.
func (f *floor) follow(c *cue.Cue) {
	if !c.Hidden.AllSteps() {
		return
	}
	timeline, set := c.Moment.Timeline, &c.Moment.Settings
	loop := set.Loop
	if !loop.Empty() && !loop.Contains(c.At().At) {
		loop = player.Interval{}
	}
	if f.score != timeline.Score {
		f.score, f.whole, f.motion, f.view = timeline.Score, motion.New(path.Trace(timeline.Score)), nil, nil
	}
	if f.motion == nil || loop != f.loop {
		f.loop, f.motion, f.view = loop, f.whole, nil
		if !loop.Empty() && f.whole != nil {
			f.motion = f.whole.Looped(loop.From, loop.To, set.Rest > 0)
		}
	}
	if shown := c.Dancers.Each(); f.view == nil || shown != f.shown {
		f.shown, f.view = shown, floorview.New(f.motion, f.from, shown)
	}
}

// turn looks from elsewhere.
func (f *floor) turn() { f.from, f.view = (f.from+1)%floorview.Views, nil }

// leastPlan is the columns and rows below which a plan can't be read.
const (
	leastPlanWidth  = 24
	leastPlanHeight = 8
)

// planWidth returns how many columns of a view the plan takes; ok is false if there is no room for it.
func planWidth(width, height int) (columns int, ok bool) {
	columns = min(max(2*height, width/2), width*3/4) // square, as a cell is half as wide as it is high
	return columns, columns >= leastPlanWidth && height >= leastPlanHeight
}

// shows returns how many columns of a view the plan takes; ok is false if there is no room for it, or
// nothing to see.
func (f *floor) shows(c *cue.Cue, width, height int) (columns int, ok bool) {
	columns, ok = planWidth(width, height)
	return columns, ok && f.view != nil && f.motion != nil && c.Hidden.AllSteps()
}

// beside draws the couple as it moves, so many columns wide, to the right of lines that end at the column
// left. In the window they begin at the line top.
func (f *floor) beside(lines []string, c *cue.Cue, wide, left, top int) []string {
	height := len(lines)
	if size := [2]int{wide, height}; f.canvas == nil || f.size != size {
		f.canvas, f.size = raster.New(wide, height, f.palette), size
	} else {
		f.canvas.Clear()
	}
	now := &c.Moment
	beat := beats(now.Beat)
	if now.State == player.LeadIn {
		beat = max(beat, f.motion.Before(beats(now.Begins)))
	}
	f.view.Draw(f.canvas, beat, 60/max(now.Tempo.Float(), 1))
	for y, row := range f.canvas.Rows() {
		lines[y] += row
	}
	f.drawn++
	f.over = f.canvas.Picture(left, top, f.drawn)
	return lines
}

func beats(b routine.Beats) float64 { return float64(b) / float64(routine.Beat) }
