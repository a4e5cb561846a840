package routine

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"github.com/yuin/goldmark/ast"
)

var (
	factPattern = lazily(`^(?s)\s*([*_]*)(\pL[\pL ]{0,30}?)[*_]*\s*:[*_]*\s*(.*)$`)
	// bareFactPattern matches a fact without its colon.
	bareFactPattern = lazily(`^(?is)\s*(starts?|begins?|ends?|finish(?:es)?|also called)\s+(?:in\s+)?(\S.*)$`)
)

// splitFact splits "starts: open facing" into the name and the extent of the value.
func (p *parser) splitFact(at extent) (factText, bool) {
	text := p.src.slice(at)
	if strings.IndexByte(text, ':') < 0 {
		return factText{}, false
	}
	m := factPattern.FindStringSubmatchIndex(text)
	if m == nil {
		return factText{}, false
	}
	return factText{
		key:   extent{at.from + m[2], at.from + m[5]},
		value: extent{at.from + m[6], at.from + m[7]},
		name:  strings.ToLower(strings.Join(strings.Fields(p.src.slice(extent{at.from + m[4], at.from + m[5]})), " ")),
	}, true
}

var factNames = []string{"starts", "ends", "also called", "level", "source", "parts", "begun", "family", "note"}

// facts reads the bullets of a list in a figure's section.
func (p *parser) facts(fig *Figure, list *ast.List) {
	for item := list.FirstChild(); item != nil; item = item.NextSibling() {
		if at := p.itemText(item); at != (extent{}) {
			p.fact(fig, at)
		}
	}
}

// splitBareFact splits "starts closed".
func (p *parser) splitBareFact(at extent) (factText, bool) {
	m := bareFactPattern.FindStringSubmatchIndex(p.src.slice(at))
	if m == nil {
		return factText{}, false
	}
	fact := factText{key: extent{at.from + m[2], at.from + m[3]}, value: extent{at.from + m[4], at.from + m[5]}}
	fact.name = strings.ToLower(p.src.slice(fact.key))
	return fact, true
}

// fact reads a bullet above a chart. A bullet that does not name a fact is prose.
func (p *parser) fact(fig *Figure, at extent) {
	fact, ok := p.splitFact(at)
	if !ok {
		if fact, ok = p.splitBareFact(at); !ok {
			return
		}
	}
	value := p.src.slice(fact.value)
	fact.name = cmp.Or(lex().facts[fold(fact.name)], fact.name)
	switch fact.name {
	case "starts":
		fig.Starts = p.stance(fact.value)
	case "ends":
		fig.Ends = p.stance(fact.value)
	case "also called":
		for _, alias := range strings.FieldsFunc(value, func(r rune) bool { return r == ',' || r == ';' }) {
			fig.Aliases = append(fig.Aliases, headingText(alias))
		}
	case "level":
		n, err := strconv.ParseUint(strings.TrimSpace(value), 10, 8)
		if err != nil || n == 0 || n > mostLevels {
			p.add("bad-value", fact.value, quoted(value)+" is not a teaching level", "write 1 for the easiest, then 2, 3 …")
			n = 0
		}
		fig.Level = int(n)
	case "source":
		fig.Source = headingText(value)
	case "parts":
		fig.Parts = p.pieces(fact.value)
	case "begun":
		fig.Begun = p.begun(fact.value)
	case "family":
		fig.Family = p.family(fact.value)
	case "note":
	default:
		if near := misspelt(fact.name, factNames); len(near) > 0 {
			p.add("unknown-fact", fact.key, "unknown fact "+quoted(fact.name), "perhaps "+strings.Join(near, ", "))
		} else {
			p.add("not-read", fact.key, quoted(fact.name)+" is no fact that Slowquick reads; it is left for people", "the facts are "+strings.Join(factNames, ", "))
		}
		return
	}
	if fact.name != "note" && slices.ContainsFunc(fig.text.facts, func(f factText) bool { return f.name == fact.name }) {
		p.add("said-twice", fact.key, quoted(fact.name)+" is given twice for this figure", "keep one")
	}
	fig.text.facts = append(fig.text.facts, fact)
}

// stance reads "closed or open facing, leader LF free, follower RF free, facing DW". As with steps, one without a
// fault is read once.
func (p *parser) stance(at extent) Stance {
	text := p.src.slice(at)
	if s, known := p.stances[text]; known {
		s.At = p.src.span(at.from, at.to)
		return s
	}
	faults := len(p.list)
	s := p.readStance(at)
	if p.stances != nil && len(p.list) == faults {
		p.stances[text] = s
	}
	return s
}

func (p *parser) readStance(at extent) Stance {
	r := stanceReader{parser: p, at: at, out: Stance{At: p.src.span(at.from, at.to)}}
	if p.tooLong(at) {
		r.out.Positions = AnyPosition
		return r.out
	}
	var words []word
	words, r.out.Note = lex().split(p.src.slice(at), at.from)
	for len(words) > 0 {
		words = words[r.next(words):]
	}
	if r.out.String() == (Stance{Note: r.out.Note}).String() && !r.unclear {
		p.add("bad-value", at, "this says nothing about how the couple stands", "write what you know: closed or open facing, leader LF free, facing DW")
	}
	if r.unclear {
		r.out.Positions, r.out.AsStarted = AnyPosition, false
	}
	p.grown(at, r.out.String())
	return r.out
}

// stanceReader reads the statements of a stance one after the other.
type stanceReader struct {
	*parser
	at      extent
	out     Stance
	aligned [2]bool // whose alignment was said
	unclear bool    // something could not be read
}

// next reads the statement that words begin with, and returns its length in words.
func (s *stanceReader) next(words []word) int {
	if len(words) > 1 && words[0].text == "as" && words[1].text == "started" {
		s.out.AsStarted = true
		return 2
	}
	if c := lex().columns[columnKey(s.src.slice(words[0].at))]; c == leaderColumn || c == followerColumn {
		side := Partner(c - leaderColumn)
		if lex().phraseAt(words) > 1 { // "follower behind left"
			return s.position(words)
		}
		if len(words) == 1 || words[1].text == "," {
			s.unknown(words[0].at, "this says nothing about the "+side.String(), "write "+side.String()+" LF free, or "+side.String()+" facing DW")
			return 1
		}
		if len(words) > 1 && lex().phraseAt(words[1:]) > 1 && lex().stands[words[1].text] == NoStand { // "leader left outside partner"
			return s.positionOf(words)
		}
		if n := s.free(side, words[1:]); n > 0 {
			return 1 + n
		}
		if n := s.facing(side, words[1:]); n > 0 {
			return 1 + n
		}
		return s.positionOf(words)
	}
	if n := s.facing(Leader, words); n > 0 {
		return n
	}
	return s.position(words)
}

// others reads the other alignments on which a partner may stand, "or LOD or wall", and returns the number of words.
func (s *stanceReader) others(side Partner, words []word) int {
	usual := s.out.Facing[side]
	var turns []Turn
	at := 0
	for at+1 < len(words) && words[at].text == "or" {
		var r reading
		n := s.alignment(&r, words[at+1:])
		other := r.step.Alignment
		if n == 0 {
			from := at + 1
			for from < len(words)-1 && lex().toward[words[from].text] {
				from++
			}
			if other.To, n = lex().direction(words[from:]); n == 0 {
				break
			}
			other.Stand = usual.Stand
			n += from - at - 1
		}
		turn := usual.Direction().To(other.Direction())
		if turn == 0 || slices.Contains(turns, turn) {
			s.add("said-twice", extent{words[at+1].at.from, words[at+n].at.to}, other.String()+" is said twice", "keep one")
		} else {
			turns = append(turns, turn)
		}
		at += 1 + n
	}
	switch {
	case s.aligned[Leader] && s.aligned[Follower] && !slices.Equal(turns, s.out.Or):
		s.add("bad-value", s.at, "the partners' alignments do not go together: each of the follower's must be as far from her first as the leader's is from his", "give the other alignments of one partner; the other turns with them")
	case turns != nil:
		s.out.Or = turns
	}
	return at
}

// positionOf reads a position said of one partner, "follower in fan". It becomes the couple's; the
// wording goes into the note.
func (s *stanceReader) positionOf(words []word) int {
	at := 1
	for at < len(words) && lex().joining[words[at].text] {
		at++
	}
	if at < len(words) && words[at].text != "," {
		at += s.position(words[at:])
	}
	s.out.Note = strings.TrimSpace(s.out.Note + " " + s.said(words[:at]))
	return at
}

// position reads a hold or a position, or skips a word that says nothing.
func (s *stanceReader) position(words []word) int {
	var r reading
	if n := lex().match(&r, words); n > 0 && r.step.Position|PositionSet(r.step.Hands) != 0 {
		s.out.Positions |= r.step.Position
		s.out.Hands |= r.step.Hands
		return n
	}
	if n := s.lead(&r, words); n > 0 {
		s.out.Note = strings.TrimSpace(s.out.Note + " " + s.said(words[:n]))
		return n
	}
	if w := words[0]; w.text != "," && w.text != "or" && !lex().joining[w.text] {
		s.unknown(w.at, "unknown hold or position "+quoted(s.src.slice(w.at)), s.near(w.text, positionNames()))
	}
	return 1
}

// free reads "LF free" for a partner and returns the number of words; 0 if no foot is named.
func (s *stanceReader) free(side Partner, words []word) int {
	foot := footNames[words[0].text]
	if foot == NoFoot {
		return 0
	}
	if s.out.Free[side] != NoFoot {
		s.twice(words[0].at, side)
		foot = NoFoot
	}
	s.out.Free[side] = foot
	return skip(words, 1, "free", "foot", "is")
}

// facing reads "facing DW" for a partner and returns the number of words; 0 if there is no alignment.
func (s *stanceReader) facing(side Partner, words []word) int {
	var r reading
	n := s.alignment(&r, words)
	if n == 0 {
		return 0
	}
	if s.out.Facing[side].Stand != NoStand {
		s.twice(words[0].at, side)
		r.step.Alignment = Alignment{}
	}
	s.out.Facing[side], s.aligned[side] = r.step.Alignment, r.step.Alignment.Stand != NoStand
	return n + s.others(side, words[n:])
}

func (s *stanceReader) unknown(at extent, message, hint string) {
	s.add("unknown-word", at, message, hint)
	s.unclear = true
}

func (s *stanceReader) twice(at extent, side Partner) {
	s.add("said-twice", at, "this is said twice about the "+side.String(), "keep one")
}

func positionNames() (names []string) {
	for _, fact := range positionFacts {
		names = append(names, fact.name)
	}
	return names
}
