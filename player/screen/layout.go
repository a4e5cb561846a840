package screen

import (
	"dance.example/slowquick/player"
	"dance.example/slowquick/player/screen/term"
	"dance.example/slowquick/routine"
)

// The window in which everything is shown.
const (
	wholeWidth  = 80
	wholeHeight = 24
)

// layout is how the dance is laid out. It is made anew when one of the things
// it is made for changes.
type layout struct {
	width, height int
	dancers       routine.Dancers
	count         routine.CountStyle
	line          *player.Timeline
	moving        bool
	floor         bool // the plan of it is shown

	lines      share
	letters    map[string][]string // by text; nil if there is no room for any
	feet       bool                // have room for large letters, too
	columns    [3]int              // of the large letters: count, and one or two feet
	countWidth int                 // columns of the count beside the plan of the floor
	size       term.Lettering
	longest    int      // label, in letters
	cell       int      // columns of a count in the line of counts
	help       []string // lines
}

// share is how many lines each part of the screen gets.
type share struct {
	title, figure, state, labels, big, floor, steps, next, counts, after, settings, message, help, gaps int
}

// feetLetters are the texts that stand for a foot.
var feetLetters = []string{"LF", "RF", "-"}

// nameColumns is the room for "follower" before its steps.
const nameColumns = 10

// arrange lays the dance out for a window.
func (d *dance) arrange(width, height int) {
	d.layOut(width, height)
	d.drawFloor()
}

// layOut makes the layout anew if one of the things it is made for has changed.
func (d *dance) layOut(width, height int) {
	moving := d.now.State == player.Dancing || d.now.State == player.LeadIn
	floor := d.floor.shown && d.floorHidden(width, height) == ""
	dancers := d.shownSide()
	was := &d.layout
	if was.width == width && was.height == height && was.dancers == dancers && was.count == d.count &&
		was.line == d.now.Timeline && was.moving == moving && was.floor == floor && was.help != nil {
		return
	}
	l := layout{width: width, height: height, dancers: dancers, count: d.count, line: d.now.Timeline, moving: moving, floor: floor}
	labels := d.allLabels()
	l.longest, l.cell = 1, 4
	for _, text := range labels {
		l.longest = max(l.longest, len([]rune(text)))
		l.cell = max(l.cell, term.Width(text)+2)
	}

	if floor {
		l.arrangeFloor(labels)
	} else {
		l.arrangeLetters(labels)
	}
	back := "list"
	if d.drill {
		back = "page"
	}
	lines := helpLines(d.groups, moving, back)
	l.help = []string{}
	for i := range l.lines.help {
		l.help = append(l.help, term.HelpLine(width, lines[i]))
	}
	d.layout = l
}

// arrangeLetters gives the window to the count and the feet in large letters.
func (l *layout) arrangeLetters(labels []string) {
	width, height, sides := l.width, l.height, len(l.dancers.Partners())
	feet := 2 * sides
	margins := 2 + 2*sides
	least := 0 // lines of large letters
	for _, f := range []bool{true, false} {
		if f && sides == 0 {
			continue
		}
		columns := l.longest
		if f {
			columns += feet
		}
		widest := term.LetteringFor(labels, columns, width-margins, 1000)
		if !widest.Readable() {
			continue
		}
		l.feet = f
		least = widest.Smallest().Rows()
		l.lines = shareFor(width, height, sides, least, widest.Rows())
		l.size = term.LetteringFor(labels, columns, width-margins, l.lines.big)
		break
	}
	if least == 0 {
		l.lines = shareFor(width, height, sides, 0, 0)
	}
	if l.lines.big > 0 {
		l.draw(append(labels, feetLetters...))
		l.place()
	}
}

// shareFor shares out the lines of a window, to the most needed first. Large
// letters take between least and most lines; with least 0 there are none.
func shareFor(width, height, sides, least, most int) share {
	if sides == 0 {
		return classShare(height, least, most)
	}
	var p share
	left := height
	take := taker(&left)
	take(&p.labels, 1) // with the count and the feet in small letters, if there are no large ones
	take(&p.steps, sides)
	take(&p.message, 1)
	if least > 0 {
		take(&p.big, least)
	}
	take(&p.counts, 2+sides)
	take(&p.state, 1)
	take(&p.figure, 1)
	take(&p.help, 1)
	take(&p.title, 1)
	take(&p.next, sides)
	take(&p.after, 1)
	take(&p.settings, 1)
	take(&p.help, 1)
	if left > 6 {
		take(&p.gaps, 3)
		take(&p.after, min(left/4, 4))
	}
	if p.big > 0 {
		take(&p.big, max(0, min(left, most-p.big)))
	}
	take(&p.after, min(left, 6))
	return p
}

// classShare is shareFor where the count is alone: what is left is the count's.
func classShare(height, least, most int) share {
	var p share
	left := height
	take := taker(&left)
	take(&p.labels, 1)
	take(&p.message, 1)
	take(&p.big, least)
	take(&p.state, 1)
	take(&p.figure, 1)
	take(&p.help, 1)
	take(&p.title, 1)
	if p.big > 0 {
		take(&p.big, max(0, min(left, most-p.big)))
	}
	take(&p.settings, 1)
	take(&p.help, 1)
	take(&p.counts, 2)
	take(&p.after, min(left, 6))
	return p
}

// taker gives parts of a window lines, as long as as many are left.
func taker(left *int) func(part *int, n int) {
	return func(part *int, n int) {
		if *left >= n {
			*part += n
			*left -= n
		}
	}
}

// draw draws the texts.
func (l *layout) draw(texts []string) {
	l.letters = map[string][]string{}
	for _, text := range texts {
		if _, ok := l.letters[text]; !ok {
			l.letters[text] = l.size.Draw(text)
		}
	}
}

// place finds the columns of the large letters.
func (l *layout) place() {
	widths := []int{l.size.Width(l.longest)}
	if l.feet {
		for range l.dancers.Partners() {
			widths = append(widths, l.size.Width(2))
		}
	}
	room := l.width
	for _, w := range widths {
		room -= w
	}
	gap := max(room/(len(widths)+1), 0)
	at := gap
	for i, w := range widths {
		l.columns[i] = at
		at += w + gap
	}
}
