// Package blank writes sheets to begin with.
package blank

import (
	"bytes"
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"dance.example/slowquick/cmd/slowquick/outcome"
	"dance.example/slowquick/cmd/slowquick/report"
	"dance.example/slowquick/library"
	"dance.example/slowquick/library/check"
	"dance.example/slowquick/player"
	"dance.example/slowquick/player/handout"
	"dance.example/slowquick/routine"
	"github.com/charmbracelet/x/ansi"
)

// Sheet returns a sheet of a dance to begin with. Of a dance in the library it has the easiest figure that can be
// danced by itself.
func Sheet(l *library.Library, dance, metre string) ([]byte, error) {
	d, known := l.Dance(dance)
	if english := routine.DanceNamed(dance); !known && english != "" {
		dance = english
		d, known = l.Dance(dance)
	}
	switch {
	case known && metre != "":
		return nil, outcome.Usage(fmt.Errorf("--metre: leave it out, as the library knows %s", d.Name))
	case !known && metre == "":
		hint := "with its metre, any dance works: slowquick new " + strconv.Quote(dance) + " --metre 4/4"
		return nil, outcome.New(outcome.UsageCode, fmt.Errorf("no dance is called %q", dance), outcome.Perhaps(dance, l.Dances(), "dances: "+strings.Join(l.Dances(), ", "))+"; "+hint)
	case !known:
		return begunAnew(l, dance, metre)
	}
	chapter, _ := l.Chapter(dance)
	for _, times := range []string{" × 2", "", " × 4"} {
		for _, fig := range chapter.Figures {
			if text, ok := whole(l, beginning(d, fig.Name, times)); ok {
				return text, nil
			}
		}
	}
	return nil, outcome.New(outcome.FindingsCode, fmt.Errorf("the library has no figure of %s that can be danced by itself", d.Name), "slowquick compose --dance "+strconv.Quote(dance)+" suggests a routine")
}

// begunAnew returns a sheet of a dance that is not in the library, with steps to the side that fill bars.
func begunAnew(l *library.Library, dance, metre string) ([]byte, error) {
	m, ok := routine.ParseMetre(metre)
	if !ok {
		return nil, outcome.New(outcome.UsageCode, fmt.Errorf("--metre: %q is not a metre", metre), "write 2/4, 3/4 or 4/4")
	}
	const name = "Side step"
	var chart strings.Builder
	chart.WriteString("\n## " + name + "\n\n- starts: closed, leader LF free, follower RF free\n- ends: as started\n\n| Count | Leader | Follower |\n|---|---|---|\n")
	steps := m.Beats * (1 + m.Beats%2) // a bar, or two that bring the weight back
	for i := range steps {
		step := [...]string{"LF side | RF side", "RF close | LF close"}[i%2]
		fmt.Fprintf(&chart, "| %d | %s |\n", i%m.Beats+1, step)
	}
	named := dance
	if plain := regexp.MustCompile(`^\pL[\pL\pN '’-]*$`); !plain.MatchString(dance) { // what a setting can be without quotes
		named = strconv.Quote(dance)
	}
	top := "---\ndance: " + named + "\nmetre: " + m.String() + "\n---\n\n# My " + dance + "\n"
	order := "\n## Order\n\n1. " + name + " × 2\n\n" + ownHelp + "\n"
	text, clean := whole(l, top+"\n"+topHelp+"\n"+order+chart.String())
	if !clean {
		return nil, outcome.Usage(fmt.Errorf("%q can't be the name of a dance", dance))
	}
	return text, nil
}

// What a sheet to begin with says to people, each on one line.
const (
	topHelp = `Words like these are for people; write what you like. After a change save the sheet, and "slowquick check" with its name says what can't be danced; ` +
		`"slowquick help sheet" shows on one page what can be written.`
	moreHelp = `To dance more, write other names below the first, as 2., 3. and so on: figures of the library (slowquick figures --dance 'DANCE' lists them), or your own, each with its steps as below.`
	ownHelp  = `To dance more, write other names below the first, as 2., 3. and so on, each with its steps as below.`
	stepHelp = `Each row is a step: the count, the foot, and where it goes. Turns, holds and the like follow after commas, as in "LF side, 1/4 L"; "slowquick words steps" lists them. A dancer who waits has a – there.`
)

// beginning returns a sheet of a dance in the library with one figure in its order.
func beginning(d *routine.Dance, figure, times string) string {
	dance := strings.ToLower(d.Name)
	return "---\ndance: " + dance + "\ntempo: " + d.TempoText(d.Usual.Min) + "   # usually danced at " + d.RangeText(d.Usual) + "\n---\n\n# My " + dance + "\n\n" + topHelp +
		"\n\n## Order\n\n1. " + figure + times + "\n\n" + strings.Replace(moreHelp, "DANCE", dance, 1) + "\n"
}

// whole returns a sheet with the steps of all its figures, and false if there is anything to find in it.
func whole(l *library.Library, text string) ([]byte, bool) {
	const name = "new.md"
	score, found := check.Sheet(name, []byte(text), l)
	if len(found) > 0 || len(score.Passages) == 0 {
		return nil, false
	}
	timeline := player.NewTimeline(score)
	var out bytes.Buffer
	o := handout.Options{Settings: player.DefaultSettings(), Shown: [2]bool{true, true}, Times: 1}
	if err := handout.Markdown(&out, handout.Sheet{Text: []byte(text), Line: timeline, Options: o}); err != nil {
		return nil, false
	}
	out.WriteString("\n" + stepHelp + "\n")
	begun := folded(out.Bytes())
	_, found = check.Sheet(name, begun, l)
	return begun, len(found) == 0
}

// folded returns a sheet with its prose in lines of a usual length.
func folded(text []byte) []byte {
	var out bytes.Buffer
	for line := range strings.Lines(string(text)) {
		if !strings.HasPrefix(line, "|") && !strings.HasPrefix(line, "-") {
			line = ansi.Wordwrap(line, report.TextColumns, "")
		}
		out.WriteString(line)
	}
	return out.Bytes()
}
