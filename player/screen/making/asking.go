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
	forWholeTempo
	forLeadIn
	forHall
	forPartName
	forFigure // the name of one to be written
	forFigureStarts
	forFigureEnds
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
	forPart:         {"Only: ", "steps 1–3, or empty for all"},
	forRemark:       {"Remark: ", "look up at the lights"},
	forTempo:        {"Tempo: ", "28 bars/min, or empty"},
	forEnds:         {"Ends in: ", "open facing, or empty"},
	forTitle:        {"Title: ", ""},
	forWholeTempo:   {"Tempo: ", "28 bars/min, or empty"},
	forLeadIn:       {"Lead-in: ", "2 bars, or empty"},
	forHall:         {"The hall: ", "12 x 8 m, or empty"},
	forPartName:     {"The part: ", "Part A"},
	forFigure:       {"Your figure: ", "lantern sway"},
	forFigureStarts: {"It starts in: ", "closed, leader LF free"},
	forFigureEnds:   {"It ends in: ", "open facing, or empty"},
	forFile:         {"Save as: ", "lantern-waltz.md"},
	forOver:         {"Save as: ", ""},
}
