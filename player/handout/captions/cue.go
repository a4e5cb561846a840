package captions

// cue is a text shown from one second up to, but not including, another.
type cue struct {
	from, to float64
	text     string
	corner   corner
}

// corner is where a cue stands at the bottom of the film: each partner's on a side if both are shown.
type corner uint8

const (
	bottom corner = iota
	bottomLeft
	bottomRight
)

// settings returns a corner as settings of a WebVTT cue.
//
// Source: W3C, WebVTT: The Web Video Text Tracks Format, 4.4.
func (c corner) settings() string {
	return [...]string{bottomLeft: " position:25% size:48%", bottomRight: " position:75% size:48%"}[c]
}

// tag returns a corner as many players of SubRip know it, from memory: by the keys of a keypad.
func (c corner) tag() string { return [...]string{bottomLeft: `{\an1}`, bottomRight: `{\an3}`}[c] }
