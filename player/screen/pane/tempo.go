package pane

import (
	"fmt"
	"strconv"
	"strings"

	"dance.example/slowquick/player"
	"dance.example/slowquick/player/changes"
	"dance.example/slowquick/player/screen/term"
	"dance.example/slowquick/routine"

	"github.com/charmbracelet/bubbles/key"
	"github.com/charmbracelet/bubbles/textinput"
	tea "github.com/charmbracelet/bubbletea"
)

// Tempo is a line in which a tempo is typed, or a ladder of tempi. What it will mean is
// said while it is typed.
type Tempo struct {
	input textinput.Model
	wrong string
}

// NewTempo returns an empty line.
func NewTempo() *Tempo {
	return &Tempo{input: term.NewInput("tempo: ", "28, 112 beats, 80 %, or 70 to 100 by 5; empty for the sheet's own")}
}

// TempoKeys returns what the help line says while a tempo is typed.
func TempoKeys() []key.Binding {
	return []key.Binding{term.Bind("enter", "dance it", "enter"), term.Bind("esc", "leave it as it is", "esc")}
}

// Press types a key. On enter it returns the change that the text means; it is nil, and the
// line stays open, if that can't be understood. Closes reports whether the line closes.
func (p *Tempo) Press(msg tea.KeyMsg, m player.Moment) (change changes.Change, closes bool) {
	switch msg.String() {
	case "esc":
		return nil, true
	case "enter":
		change, _, err := Meaning(p.input.Value(), m)
		if err != nil {
			p.wrong = err.Error()
			return nil, false
		}
		return change, true
	}
	p.wrong = ""
	p.input, _ = p.input.Update(msg)
	return nil, false
}

// View draws the line, and below it what it means at a moment.
func (p *Tempo) View(width int, t term.Theme, m player.Moment) []string {
	r := term.NewRow(width)
	switch _, text, err := Meaning(p.input.Value(), m); {
	case p.wrong != "":
		r.Put(t.Alarm, p.wrong)
	case err == nil:
		r.Put(term.Plain, "→ "+text)
	default:
		r.Put(t.Faint, "A tempo is 28 (bars a minute), 112 beats, 80 %, or 70 to 100 by 5")
	}
	return []string{term.InputLine(width, t, p.input), r.String()}
}

// The share of the sheet's tempo, in per cent, in which a bare number is taken for bars a
// minute (our own choice).
const (
	slowestBars = 40
	fastestBars = 130
)

// Meaning returns the change that a text asks for at a moment, and what it means in words.
// No text is the sheet's own tempo. A bare number is bars a minute if that is near the sheet's
// tempo, else per cent up to 100 and beats a minute above.
func Meaning(text string, m player.Moment) (changes.Change, string, error) {
	text = strings.TrimSpace(text)
	own := m.Timeline.Tempo(m.Beat)
	if text == "" {
		return changes.Tempo(100, 0), "the sheet's own tempo, " + inWords(m.Timeline, own, 100), nil
	}
	if strings.Contains(text, "to") {
		ladder, err := player.ParseLadder(text)
		if err != nil {
			return nil, "", err
		}
		each := "each run-through"
		if ladder.Times > 1 {
			each = fmt.Sprintf("every %d run-throughs", ladder.Times)
		}
		return changes.Climb(ladder), fmt.Sprintf("from %s %% to %s %%, %s %% faster after %s", term.Decimal(ladder.Start), term.Decimal(ladder.Top), term.Decimal(ladder.Gain), each), nil
	}
	if n, err := strconv.ParseFloat(text, 64); err == nil {
		bars := m.Timeline.Score.Dance.BarsPerMinute(own)
		switch share := n / bars * 100; {
		case share >= slowestBars && share <= fastestBars:
			text += " bars/min"
		case n <= 100:
			text += " %"
		default:
			text += " beats/min"
		}
	}
	if number, ok := strings.CutSuffix(text, " beats"); ok {
		text = number + " beats/min"
	}
	percent, tempo, err := m.Timeline.ParseTempo(text, own)
	if err != nil {
		return nil, "", err
	}
	return changes.Tempo(percent, tempo), inWords(m.Timeline, own.Scaled(percent), percent), nil
}

// inWords says a tempo in every way that dancers say it.
func inWords(t *player.Timeline, tempo routine.Tempo, percent float64) string {
	return fmt.Sprintf("%s bars/min, %.0f beats/min, %.0f %% of the sheet's tempo",
		term.Decimal(t.Score.Dance.BarsPerMinute(tempo)), tempo.Float(), percent)
}
