package routine

import (
	"bytes"
	"strings"
)

// Sheet is a routine, or a chapter of figures, as written.
type Sheet struct {
	Name     string // the file's name
	Title    string
	Lesson   Lesson
	Dance    *Dance // never nil; a plain dance if the sheet names none that is known
	Known    bool   // whether the dance is known
	Defines  bool   // the sheet itself defines its dance
	Tempo    Tempo
	Faces    *Alignment // the leader's at the start; nil if not said
	Style    CountStyle
	Language Language // of the counts
	Floor    Room     // zero if not said
	Stride   Stride   // the dance's, unless the sheet sets its own
	Rhythm   Rhythm   // the dance's, unless the sheet sets its own
	Music    Music
	Items    []Item
	Figures  []*Figure // those defined in the sheet itself

	src      *source
	book     Book
	byKey    map[string]*Figure // figures by name; other names yield to figures' own
	places   map[int]*Figure    // the headings of figures in Markdown, and those of the order, with nil
	prose    map[string]extent  // sections without a chart, by name: what they say first
	written  []Item             // the order's items as they stand there, each once
	parts    []orderPart        // the order's; the first stands right below its heading
	orderAt  extent             // the heading
	orderPos extent             // from its heading to the end of its last part
	tempoAt  extent
	leadIn   int // bars, more than UsualLeadIn
	facesAt  extent
}

// Markdown returns the sheet's text as it is read, in Markdown's own form, with its front matter blanked.
// It returns nil for a sheet that was not read.
func (s *Sheet) Markdown() []byte {
	if s.src == nil {
		return nil
	}
	_, body := frontMatter(s.src.text)
	return body
}

// FrontMatter returns the settings at the top as they are written, or "".
func (s *Sheet) FrontMatter() string {
	if s.src == nil {
		return ""
	}
	front, _ := frontEnd(s.src.text)
	return strings.ReplaceAll(s.src.slice(front), "\r\n", "\n")
}

// FigureAt returns the figure whose section begins with a heading at an offset of Markdown; nil if there is none.
func (s *Sheet) FigureAt(heading int) *Figure { return s.places[heading] }

// InOrder reports whether a heading at an offset of Markdown is that of the order, or of a part of it.
func (s *Sheet) InOrder(heading int) bool {
	fig, ok := s.places[heading]
	return ok && fig == nil
}

// MostTimes is the largest number of times that an item can be danced in a row.
const MostTimes = 99

// Item is one line of the order.
type Item struct {
	Name     string
	Figure   *Figure // nil if there is none of that name
	From, To int     // rows danced, from From up to, but not including, To
	Times    int
	Remark   string
	Tempo    Tempo       // 0 if not set
	TempoTo  Tempo       // the end of a ramp; Tempo if there is none
	Ends     PositionSet // 0 if not set
	Hands    HandsSet    // that hold at the end; 0 if not set
	Style    CountStyle
	Corner   bool // a corner of the room is taken after it
	At       Span
	// Opens and Closes are the items, as they are written, that begin and that end where this one is danced: itself,
	// then those that name the parts around it. They are not to be changed.
	Opens, Closes []Span

	steps   [2]int // as written, from 1; 0 if all
	share   share  // as written, instead of steps
	shareAt extent
	name    extent
	text    extent // the whole item
	block   extent // its lines, with the settings below it
	names   int    // which of the order's parts it names; 0 for none
	list    int    // which of the order's lists it stands in, from 1
	part    int    // which of the order's parts it stands in, from 1; 0 above them
	inPart  string // what that part is called
	remarks []extent
	ends    extent
	sets    []factText
}

// Whole returns an item that dances all of a figure once.
func Whole(fig *Figure) Item { return Item{Name: fig.Name, Figure: fig, To: len(fig.Rows), Times: 1} }

// CountStyle is a way of saying the count.
type CountStyle uint8

// The ways to count: as the chart does, in slows and quicks, or in words.
const (
	StyleUnset CountStyle = iota
	AsCounted
	SlowQuick
	InWords
)

var styleNames = [...]string{"", "count", "slow/quick", "words"}

// String returns s as a sheet writes it.
func (s CountStyle) String() string { return styleNames[s] }

// ParseCountStyle reads "count", "slow/quick" or "words".
func ParseCountStyle(text string) (CountStyle, bool) {
	for i, name := range styleNames {
		if i > 0 && Key(name) == Key(text) {
			return CountStyle(i), true
		}
	}
	return StyleUnset, false
}

// Book is where a sheet finds dances and figures that it does not define.
type Book interface {
	Dance(name string) (*Dance, bool)
	Dances() []string
	Figure(d *Dance, name string) (*Figure, bool)
	Figures(d *Dance) []string
}

// EmptyBook is a Book without dances or figures.
type EmptyBook struct{}

// Dance finds none.
func (EmptyBook) Dance(string) (*Dance, bool) { return nil, false }

// Dances returns none.
func (EmptyBook) Dances() []string { return nil }

// Figure finds none.
func (EmptyBook) Figure(*Dance, string) (*Figure, bool) { return nil, false }

// Figures returns none.
func (EmptyBook) Figures(*Dance) []string { return nil }

// Heading is what a list of sheets shows of one sheet.
type Heading struct {
	Title string
	Dance string // as the sheet writes it
}

// ReadHeading reads only a sheet's front matter and title. It returns false for a document that names
// no dance, and for a chapter, which has a metre but no order.
func ReadHeading(name string, src []byte) (Heading, bool) {
	whole := src
	src = src[:min(len(src), largestFront)]
	m := mender{src: newSource(src)}
	m.top()
	front, body := frontMatter(m.src.text)
	if front == (extent{}) {
		return Heading{}, false
	}
	f := &findings{src: m.src}
	p := parser{findings: f, sheet: &Sheet{}}
	settings, _ := p.settings(front)
	h := Heading{Title: Plain(name), Dance: headingText(settings["dance"].value)}
	if _, defines := settings["metre"]; h.Dance == "" || defines && !hasOrder(whole) {
		return Heading{}, false
	}
	if title := headingText(settings["title"].value); title != "" {
		h.Title = title
		return h, true
	}
	for line := range bytes.Lines(body) {
		if text, ok := bytes.CutPrefix(line, []byte("# ")); ok {
			h.Title = headingText(string(text))
			break
		}
	}
	return h, true
}

// hasOrder reports whether a document has a heading for a list of the figures to dance.
func hasOrder(src []byte) bool {
	for line := range bytes.Lines(src) {
		if text, heading := bytes.CutPrefix(line, []byte("#")); heading && isOrderName(headingText(strings.TrimLeft(string(text), "#"))) {
			return true
		}
	}
	return false
}
