package pane

import "fmt"

// FirstKeys teaches the most needed keys by having them pressed, one after the other. The zero
// value is at the first; once they are taught it says nothing.
type FirstKeys struct{ learnt int }

// taught is what is taught, in order: keys of which any will do, and what to say.
var taught = [...]struct {
	keys []string
	text string
}{
	{[]string{" "}, "Press space: the count begins, and you dance"},
	{[]string{"-", "_"}, "Too fast? Press − to slow it down"},
	{[]string{" "}, "Press space again to stop"},
	{[]string{"right", "left"}, "Press → for the next step, ← for the one before"},
	{[]string{"down", "up"}, "Press ↓ for the next figure, ↑ for the one before"},
	{[]string{"r"}, "Press r to repeat this figure (again: its join, then off)"},
	{[]string{"s"}, "Press s to see one partner only, or both again"},
	{[]string{"v"}, "Press v for another view: plan of the floor, count alone"},
	{[]string{"?"}, "Press ? for all keys, and what the words mean"},
}

// Press takes in a key, and reports whether it is the one that is asked for.
func (l *FirstKeys) Press(key string) bool {
	if l == nil || l.learnt >= len(taught) {
		return false
	}
	for _, k := range taught[l.learnt].keys {
		if k == key {
			l.learnt++
			return true
		}
	}
	return false
}

// Over reports whether everything has been taught.
func (l *FirstKeys) Over() bool { return l == nil || l.learnt >= len(taught) }

// Text says what to press now; "" when all are taught.
func (l *FirstKeys) Text() string {
	if l.Over() {
		return ""
	}
	return fmt.Sprintf("%d of %d: %s", l.learnt+1, len(taught), taught[l.learnt].text)
}
