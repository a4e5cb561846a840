package player

// Place returns the frame of the song heard on a frame of the course; ok is false while
// the song is silent or fading.
func (a *Accompaniment) Place(frame int64) (in float64, ok bool) {
	for _, p := range *a.parts.Load() {
		if frame >= max(p.rises(a)+a.frames(fadeOut), p.from) && frame < p.to-a.frames(jump) {
			return p.sound.In(float64(frame - p.base)), true
		}
	}
	return 0, false
}
