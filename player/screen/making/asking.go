package making

import "github.com/charmbracelet/bubbles/textinput"

// question is what is typed.
type question uint8

const (
	forPart question = iota
	forRemark
	forTempo
	forEnds
	forTitle
	forFile
	forOver // another program has changed the file
)

// asking is a line that is being typed.
type asking struct {
	what  question
	input textinput.Model
	path  string // for forOver
}

// prompts say what is typed, and what it looks like.
var prompts = [...][2]string{
	forPart:   {"Part: ", "steps 1–3; empty for all of it"},
	forRemark: {"Remark: ", "look up at the lights"},
	forTempo:  {"Tempo: ", "28 bars/min; empty for the sheet's"},
	forEnds:   {"Ends in: ", "open facing; empty for as usual"},
	forTitle:  {"Title: ", ""},
	forFile:   {"Save as: ", "lantern-waltz.md"},
	forOver:   {"Another program has changed it. Save as: ", ""},
}
