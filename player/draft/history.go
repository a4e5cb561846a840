package draft

import "slices"

// The most that is kept of what can be undone, and of what can be done again.
const (
	mostSteps   = 200
	mostChanged = 64 << 10 // bytes
)

// keptStep is a change as it is kept: what a text has in the place of a part of the one before it.
type keptStep struct {
	From   int    `json:"from"`           // bytes that both begin with
	Rest   int    `json:"rest"`           // bytes that both end with
	Text   []byte `json:"text,omitempty"` // it may begin or end within a letter
	Before int    `json:"before"`         // as in step
	After  int    `json:"after"`
}

// keptSteps returns what to keep of the steps from a text on, the nearest first.
func keptSteps(text []byte, s *step) (list []keptStep) {
	changed := 0
	for ; s != nil && len(list) < mostSteps; s = s.next {
		k := keptStep{Before: s.before, After: s.after}
		shorter := min(len(text), len(s.text))
		for k.From < shorter && text[k.From] == s.text[k.From] {
			k.From++
		}
		for k.Rest < shorter-k.From && text[len(text)-1-k.Rest] == s.text[len(s.text)-1-k.Rest] {
			k.Rest++
		}
		k.Text = s.text[k.From : len(s.text)-k.Rest]
		if changed += len(k.Text); changed > mostChanged {
			return list
		}
		list, text = append(list, k), s.text
	}
	return list
}

// steps returns the steps that were kept, as far as they fit the text that they begin with. The last text,
// which may be nil, is added behind them.
func steps(text []byte, list []keptStep, last []byte, line int) *step {
	var texts []step
	for _, k := range list[:min(len(list), mostSteps)] {
		if k.From < 0 || k.Rest < 0 || k.From > len(text) || k.Rest > len(text)-k.From {
			break
		}
		text = slices.Concat(text[:k.From], k.Text, text[len(text)-k.Rest:])
		texts = append(texts, step{text: text, before: k.Before, after: k.After})
	}
	if last != nil && string(last) != string(text) {
		texts = append(texts, step{text: last, before: line, after: line})
	}
	var s *step
	for _, t := range slices.Backward(texts) {
		t.next = s
		s = &t
	}
	return s
}
