package screen

import (
	"errors"
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"dance.example/slowquick/player"
	"dance.example/slowquick/routine"

	"github.com/charmbracelet/bubbles/textinput"
	"github.com/charmbracelet/lipgloss"
)

// tempo is a tempo as a dancer types it.
type tempo struct {
	amount float64
	unit   tempoUnit
}

type tempoUnit uint8

const (
	barsUnit tempoUnit = iota
	beatsUnit
	percentUnit
)

var tempoPattern = regexp.MustCompile(`^\s*(\d{1,3}(?:[.,]\d{1,3})?)\s*([a-z%/ ]*?)\s*$`)

var errTempo = errors.New("a tempo is a number and its unit: 28 bars/min, 112 beats/min or 80 %")

// parseTempo reads "28 bars/min", "112 beats/min" or "80 %", with the trade's
// mpm (measures) and bpm; a number alone is bars a minute.
func parseTempo(text string) (tempo, error) {
	m := tempoPattern.FindStringSubmatch(strings.ToLower(text))
	if m == nil {
		return tempo{}, errTempo
	}
	amount, err := strconv.ParseFloat(strings.Replace(m[1], ",", ".", 1), 64)
	if err != nil {
		return tempo{}, errTempo
	}
	switch strings.ReplaceAll(m[2], " ", "") {
	case "", "bars/min", "bars", "barsperminute", "barsaminute", "mpm":
		return tempo{amount, barsUnit}, nil
	case "beats/min", "beats", "beatsperminute", "beatsaminute", "bpm":
		return tempo{amount, beatsUnit}, nil
	case "%", "percent":
		return tempo{amount, percentUnit}, nil
	}
	return tempo{}, errTempo
}

// percent is t in per cent of the sheet's own tempo at a moment.
func (t tempo) percent(m player.Moment) float64 {
	_, own := barsPerMinute(m)
	switch t.unit {
	case beatsUnit:
		return t.amount / own / float64(m.Timeline.Score.Dance.Metre.Beats) * 100
	case percentUnit:
		return t.amount
	}
	return t.amount / own * 100
}

// possible says which tempi there are if t is none of them.
func (t tempo) possible(m player.Moment) error {
	if p := t.percent(m); p >= player.SlowestPercent-nearly && p <= player.FastestPercent+nearly {
		return nil
	}
	_, own := barsPerMinute(m)
	return fmt.Errorf("from %s to %s bars/min can be danced here", number(own*player.SlowestPercent/100), number(own*player.FastestPercent/100))
}

// number writes f with at most one decimal.
func number(f float64) string {
	return strings.TrimSuffix(strconv.FormatFloat(f, 'f', 1, 64), ".0")
}

// tempoText gives the tempo at a moment, and how much of the sheet's it is.
func tempoText(m player.Moment) string {
	text := number(m.Timeline.Score.Dance.BarsPerMinute(m.Tempo)) + " bars/min"
	if p := strconv.FormatFloat(m.Percent, 'f', 0, 64); p != "100" {
		text += " (" + p + " %)"
	}
	return text
}

// newInput gives a line to type in, in plain letters.
func newInput(prompt, example string) textinput.Model {
	i := textinput.New()
	i.Prompt, i.Placeholder = prompt, example
	i.CharLimit = 64
	i.PromptStyle, i.TextStyle, i.PlaceholderStyle = lipgloss.NewStyle(), lipgloss.NewStyle(), lipgloss.NewStyle()
	i.KeyMap.Paste.SetEnabled(false) // the terminal pastes; the key would run other programs
	i.Focus()                        // its command only blinks the cursor
	return i
}

// styleNames are the ways to count in the dancer's words.
func styleName(s routine.CountStyle) string {
	switch s {
	case routine.SlowQuick:
		return "slow and quick"
	case routine.InWords:
		return "words"
	}
	return "numbers"
}
