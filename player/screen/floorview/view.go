package floorview

import (
	"dance.example/slowquick/player/screen/raster"
	"dance.example/slowquick/routine"
	"dance.example/slowquick/routine/motion"
)

// View draws a motion. It keeps the camera's way and the hall for the size that it drew last,
// and serves one goroutine at a time.
type View struct {
	motion *motion.Motion
	from   From
	shown  [2]bool
	camera camera
	hall   hall
	glyphs map[rune]raster.Shape
}

// New returns a view of a motion in which the feet of some partners are shown.
func New(m *motion.Motion, from From, shown [2]bool) *View {
	return &View{motion: m, from: from, shown: shown, glyphs: map[rune]raster.Shape{}}
}

// Draw draws the couple at a beat on a canvas that is clear. Length is that of a beat in
// seconds; see [motion.Motion.At], also for a lead-in.
func (v *View) Draw(c *raster.Canvas, beat, length float64) {
	if w, h := c.Size(); min(w, h) < 4 || v.motion == nil {
		return
	}
	scene := v.motion.At(beat, length)
	p := newPen(c, v.glyphs)
	if v.from == Hall {
		v.hall.look(v.motion.Path())
		v.hall.draw(p, &scene)
		return
	}
	v.camera.look(v.motion, v.from, v.shown, p.width, p.height)
	p.lens = v.camera.at(beat, scene.Swung)
	across := footWidth * footScale * v.camera.usual
	p.detailed = across >= 6
	p.hollow = p.detailed || p.few && across >= 4 // where it takes more than a dim ink to tell them apart
	p.floor()
	v.draw(p, &scene, beat)
}

func (v *View) draw(p *pen, s *motion.Scene, beat float64) {
	for _, q := range order {
		p.body(s.Couple[q].Body, q)
	}
	if p.detailed {
		v.motion.Trail(beat, old, func(d motion.Done) {
			if v.shown[d.Partner] {
				p.trail(d)
			}
		})
	}
	p.arms(s)
	for _, q := range order {
		if d := &s.Couple[q]; v.shown[q] && d.Next.Foot != routine.NoFoot {
			p.ghost(d, q)
		}
	}
	for _, q := range order {
		p.nose(s.Couple[q].Body, q, 1)
	}
	for _, q := range order {
		if d := &s.Couple[q]; v.shown[q] {
			light := 0
			if d.Feet[0].Weight > d.Feet[1].Weight {
				light = 1
			}
			p.foot(&d.Feet[light], routine.LF+routine.Foot(light), q)
			p.foot(&d.Feet[1-light], routine.RF-routine.Foot(light), q)
		}
	}
	for _, q := range order {
		if d := &s.Couple[q]; v.shown[q] && d.Next.Foot != routine.NoFoot {
			p.number(d, q)
		}
	}
}
