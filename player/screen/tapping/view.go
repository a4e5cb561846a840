package tapping

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"dance.example/slowquick/player/screen/term"
	"dance.example/slowquick/player/timing"
	"dance.example/slowquick/routine"

	"github.com/charmbracelet/bubbles/key"
)

// View draws what the model holds.
func (m Model) View() string {
	if m.width <= 0 || m.height <= 0 {
		return ""
	}
	var head, body []string
	keys := []key.Binding{term.Bind("esc", "back", "esc")}
	switch m.phase {
	case ready:
		head, body = m.title("Tap the rhythm"), m.intro()
		keys = append([]key.Binding{term.Bind("enter", "start", "enter"), term.Bind("←→", "silent bars", "left", "right"), term.Bind("m", "microphone", "m")}, keys...)
	case starting, dancing:
		body = m.large(time.Now())
		keys = append([]key.Binding{term.Bind("space", "tap", " ")}, keys...)
	case listening:
		head = m.title("Looking for your claps …")
	case done:
		head = m.title("How you keep time")
		body = m.found()
		keys = []key.Binding{term.Bind("r", "once more", "r"), term.Bind("enter", "back", "enter")}
	}
	return term.Join(m.height, head, body, []string{term.HelpLine(m.width, keys)})
}

func (m Model) title(text string) []string {
	name := m.score.Title
	return []string{term.NewRow(m.width).Put(m.o.Theme.Heading, text).Right(term.Plain, name).String(), ""}
}

// wrapped returns texts as lines of whole words.
func (m Model) wrapped(texts ...string) (lines []string) {
	for _, text := range texts {
		if text == "" {
			lines = append(lines, "")
		}
		for _, line := range term.Words(text, m.width) {
			lines = append(lines, term.NewRow(m.width).Put(term.Plain, line).String())
		}
	}
	return lines
}

// intro says what the dancer will do.
func (m Model) intro() []string { return m.wrapped(m.sentences()...) }

// sentences say what the dancer will do.
func (m Model) sentences() []string {
	what := "Tap the space bar on each step"
	if m.o.Mic {
		what = "Clap or stamp on each step, near the microphone"
	}
	silence := "The count is heard throughout."
	if m.o.Silent > 0 {
		silence = fmt.Sprintf("After every %d bars the sound is off for %s: go on, in the same tempo.", heardBars, routine.Plural(m.o.Silent, "bar"))
	}
	return []string{fmt.Sprintf("%s, for %s.", what, routine.Plural(m.number(), "bar")), silence, "",
		"Afterwards you see how early or late each count comes, and how evenly.", "Nothing that the microphone hears is kept."}
}

// large draws the count as large as there is room for, and the number of taps so far.
func (m Model) large(now time.Time) []string {
	status, text := "Get ready", ""
	if m.phase == dancing {
		switch at := m.plan.At(m.o.Sound.Heard(now)); {
		case at.Ended:
			status = "That's all"
		case at.Silent:
			status, text = "Silence: go on", "..."
		case at.Begun:
			status, text = "Tap each step", at.Count
			if m.ear != nil {
				status = "Clap each step"
			}
		}
	}
	head := term.NewRow(m.width).Put(m.o.Theme.Heading, status)
	if m.ear == nil {
		head.Right(term.Plain, routine.Plural(len(m.taps), "tap"))
	}
	lines := []string{head.String()}
	if m.deaf != "" {
		lines = append(lines, m.wrapped("No claps can be heard: "+m.deaf+". Tap the space bar.")...)
	}
	letters := []string{"1234567890&SQae."}
	if n := len([]rune(text)); n > 3 {
		letters = append(letters, text)
	}
	l := term.LetteringFor(letters, max(3, len([]rune(text))), m.width, max(1, m.height-len(lines)-2))
	if l.Readable() && term.Drawable(text) {
		left := max(0, (m.width-l.Width(len([]rune(text))))/2)
		for _, line := range l.Draw(text) {
			lines = append(lines, strings.Repeat(" ", left)+line)
		}
		return lines
	}
	return append(lines, text)
}

// found shows the result.
func (m Model) found() []string {
	lines := append(Picture(m.result, m.width), "")
	lines = append(lines, m.wrapped(m.result.Words()...)...)
	if m.deaf != "" {
		lines = append(lines, m.wrapped("No claps could be heard: "+m.deaf+". Your taps count.")...)
	}
	return append(lines, m.wrapped("", Doubt(m.result))...)
}

// Doubt returns a sentence that says how far off the numbers may be.
func Doubt(r timing.Result) string {
	u, sound := r.Unsure, ""
	if u.Sound > 0 {
		sound = fmt.Sprintf(" (± %.0f for the sound, ± %.0f for the keys)", u.Sound*1000, u.Taps*1000)
	}
	text := fmt.Sprintf("The known delays are subtracted. All counts together may still be off by %.0f ms%s.", u.All()*1000, sound)
	if math.Abs(r.Whole.Value) > 4*u.All() {
		text += " If that surprises you, slowquick sync measures how late the sound is."
	}
	return text
}

// limits are the ranges that the picture may have to either side, in ms.
var limits = [...]float64{50, 100, 150, 250, 400}

// Picture returns a line for each count, no wider than width: its taps spread from early to late, and
// the same in numbers.
func Picture(r timing.Result, width int) []string {
	var all []float64
	names, most := 5, 0
	for _, c := range r.Counts {
		names, most = max(names, term.Width(c.Name)), max(most, len(c.Offsets))
		for _, x := range c.Offsets {
			all = append(all, math.Abs(x)*1000)
		}
	}
	if len(all) == 0 {
		return nil
	}
	slices.Sort(all)
	limit := limits[len(limits)-1]
	for _, l := range slices.Backward(limits[:]) {
		if all[(len(all)-1)*9/10] <= l {
			limit = l
		}
	}
	const numbers = 36 // columns
	bins := min(41, width-names-numbers-4)
	if bins%2 == 0 {
		bins--
	}
	head := term.NewRow(width).Put(term.Plain, "count")
	at := names + 2
	if bins >= 15 {
		head.To(at).Put(term.Plain, "early").To(at+bins/2).Put(term.Plain, "▾").To(at+bins-4).Put(term.Plain, "late")
		at += bins + 2
	} else {
		bins = 0
	}
	head.To(at).Put(term.Plain, "median").To(at+14).Put(term.Plain, "spread").To(at+23).Put(term.Plain, "taps")
	lines := []string{head.String()}
	for _, c := range r.Counts {
		row := term.NewRow(width).Put(term.Plain, c.Name).To(names + 2)
		if bins > 0 && len(c.Offsets) > 0 {
			row.Put(term.Plain, spread(c.Offsets, limit, bins))
		}
		row.To(at)
		taps := fmt.Sprintf("%d of %d", len(c.Offsets), len(c.Offsets)+c.Missed)
		if len(c.Offsets) == 0 {
			lines = append(lines, row.To(at+23).Put(term.Plain, taps).String())
			continue
		}
		row.Put(term.Plain, timing.Milliseconds(c.Value)).To(at+14).Put(term.Plain, fmt.Sprintf("± %.0f ms", c.Spread*1000)).
			To(at+23).Put(term.Plain, taps)
		lines = append(lines, row.String())
	}
	if bins > 0 {
		reach := fmt.Sprintf("%.0f ms", limit)
		lines = append(lines, term.NewRow(width).To(names+2).Put(term.Plain, reach).To(names+2+bins-term.Width(reach)).Put(term.Plain, reach).String())
	}
	return lines
}

// spread draws how many offsets fall into each bin from early to late. Those beyond the limit count in
// the outermost bins.
func spread(offsets []float64, limit float64, bins int) string {
	counts := make([]float64, bins)
	for _, x := range offsets {
		at := int(math.Round((x*1000/limit + 1) / 2 * float64(bins-1)))
		counts[min(max(at, 0), bins-1)]++
	}
	return term.Heights(counts)
}
