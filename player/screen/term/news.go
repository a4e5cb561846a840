package term

import (
	"time"
	"unicode"
	"unicode/utf8"
)

// News is what one line of a screen tells, for a while or until it is cleared.
type News struct {
	Text  string
	Wrong bool // it says that something went wrong
	fades time.Time
}

// readable is how long news stays.
const readable = 10 * time.Second

// Say tells what happened, with a capital.
func (n *News) Say(text string) {
	r, size := utf8.DecodeRuneInString(text)
	*n = News{Text: string(unicode.ToUpper(r)) + text[size:], fades: time.Now().Add(readable)}
}

// Warn tells what went wrong, in the words of an error, which may begin with a file's name.
func (n *News) Warn(text string) {
	*n = News{Text: text, Wrong: true, fades: time.Now().Add(readable)}
}

// Clear takes the news away.
func (n *News) Clear() { n.Text = "" }

// Fade takes the news away once it has stayed long enough.
func (n *News) Fade(now time.Time) {
	if now.After(n.fades) {
		n.Clear()
	}
}

// Line writes the news, or else an alarm, which may be "".
func (n *News) Line(width int, t Theme, alarm string) string {
	if n.Text == "" {
		return NewRow(width).Put(t.Alarm, alarm).String()
	}
	return NewRow(width).Put(n.Ink(t), n.Text).String()
}

// Ink returns the ink in which the news is written.
func (n *News) Ink(t Theme) Ink {
	if n.Wrong {
		return t.Alarm
	}
	return Plain
}
