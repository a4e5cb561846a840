package player

// Place is the frame of the song that is heard on a frame of the course, if any is
// whole: neither coming in nor going out.
func (a *Accompaniment) Place(frame int64) (in float64, ok bool) {
	for _, p := range *a.parts.Load() {
		if frame >= max(p.rises(a)+a.frames(fadeOut), p.from) && frame < p.to-a.frames(jump) {
			return p.sound.In(float64(frame - p.base)), true
		}
	}
	return 0, false
}
