package making

import (
	"fmt"
	"strings"

	"dance.example/slowquick/player/harmless"
	"dance.example/slowquick/player/screen/term"
	"dance.example/slowquick/routine"

	"github.com/charmbracelet/bubbles/key"
	"github.com/charmbracelet/bubbles/textinput"
	tea "github.com/charmbracelet/bubbletea"
)

// Beginning is what a new routine begins with.
type Beginning struct {
	Dance *routine.Dance // nil to begin like another sheet
	Like  string         // the sheet to begin like; "" for none
	Floor routine.Room   // zero if not said
}

// Begin asks for the dance of a new routine, and for the hall if it travels.
type Begin struct {
	dances  []*routine.Dance
	like    string
	chooser term.Chooser
	dance   *routine.Dance   // whose hall is asked for; nil while the dance is
	hall    *textinput.Model // nil until it is asked for
	news    term.News
	theme   term.Theme
	done    Beginning
}

// NewBegin returns the question for some dances. Like is a sheet whose copy one may begin with; "" for none.
func NewBegin(dances []*routine.Dance, like string, t term.Theme) *Begin {
	b := &Begin{dances: dances, like: like, chooser: term.NewChooser("a dance"), theme: t}
	b.chooser.Fill(b.texts())
	return b
}

// texts names what can be chosen: the dances, and then the sheet to begin like.
func (b *Begin) texts() (texts []string) {
	for _, d := range b.dances {
		texts = append(texts, d.Name)
	}
	if b.like != "" {
		texts = append(texts, "a copy of "+b.like)
	}
	return texts
}

// Answer is where a key leads from the question.
type Answer uint8

// Where a key can lead.
const (
	Asking  Answer = iota
	Chosen         // what Beginning returns
	Nothing        // back to where it was asked
)

// Beginning returns what was chosen.
func (b *Begin) Beginning() Beginning { return b.done }

// Press takes in a key.
func (b *Begin) Press(msg tea.KeyMsg) Answer {
	b.news.Clear()
	switch msg.Type {
	case tea.KeyEsc:
		switch {
		case b.dance != nil:
			b.dance = nil
		case !b.chooser.Clear():
			return Nothing
		}
		return Asking
	case tea.KeyEnter:
		if b.dance != nil {
			return b.withHall(strings.TrimSpace(b.hall.Value()))
		}
		return b.chosen(b.chooser.Item())
	}
	if b.dance != nil {
		input, _ := b.hall.Update(msg) // its cursor doesn't blink
		b.hall = &input
		return Asking
	}
	b.chooser.Press(msg)
	return Asking
}

func (b *Begin) chosen(item int) Answer {
	switch {
	case item < 0:
		return Asking
	case item == len(b.dances):
		b.done = Beginning{Like: b.like}
		return Chosen
	}
	d := b.dances[item]
	if !d.Travels {
		b.done = Beginning{Dance: d}
		return Chosen
	}
	input := term.NewInput(prompts[forHall][0], prompts[forHall][1])
	b.dance, b.hall = d, &input
	return Asking
}

func (b *Begin) withHall(text string) Answer {
	b.done = Beginning{Dance: b.dance}
	if text != "" {
		room, err := routine.ParseRoom(text)
		if err != nil {
			b.news.Warn(fmt.Sprintf("%q %s; write it as 12 x 8 m", text, err))
			return Asking
		}
		b.done.Floor = room
	}
	return Chosen
}

// aboutHall says what is asked for.
const aboutHall = "How long it is along the line of dance, and how wide. Leave it empty if you don't know: you can say it later."

// View draws the question.
func (b *Begin) View(width, height int) string {
	t := b.theme
	head := []string{term.NewRow(width).Put(t.Heading, "A new routine").Put(term.Plain, " · choose a dance").String()}
	line := term.InputLine(width, t, b.chooser.Filter)
	if b.dance != nil {
		head[0] = term.NewRow(width).Put(t.Heading, "A new routine").Put(term.Plain, " · "+b.dance.Name).String()
		line = term.InputLine(width, t, *b.hall)
	}
	head = append(head, line, "")
	keys := []key.Binding{term.Bind("enter", "go on", "enter"), term.Bind("esc", "back", "esc")}
	if b.dance == nil {
		keys = append([]key.Binding{b.chooser.UpDown("choose")}, keys...)
	}
	foot := []string{b.news.Line(width, t, ""), term.HelpLine(width, keys)}
	rows := max(height-len(head)-len(foot), 1)
	var body []string
	if b.dance != nil {
		for _, line := range term.Wrap(aboutHall, width) {
			body = append(body, term.NewRow(width).Put(term.Plain, line).String())
		}
	} else {
		texts := b.texts()
		first := term.FirstSeen(len(b.chooser.Shown), b.chooser.Chosen, rows)
		for i := first; i < min(first+rows, len(b.chooser.Shown)); i++ {
			k, mark := term.Plain, "  "
			if i == b.chooser.Chosen {
				k, mark = t.Present, "> "
			}
			body = append(body, term.NewRow(width).Put(k, mark+harmless.Line(texts[b.chooser.Shown[i]])).String())
		}
	}
	return term.Join(height, head, body, foot)
}
