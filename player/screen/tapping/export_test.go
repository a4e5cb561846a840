package tapping

import "dance.example/slowquick/player/timing"

// Plan returns what is tapped.
func (m Model) Plan() *timing.Plan { return m.plan }

// KeysLate is what is taken off a tap.
const KeysLate = keysLate

// Look is the message that it is time to look again.
func (m Model) Look() Msg { return lookMsg{m.turn} }
