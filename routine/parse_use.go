package routine

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// piecePattern matches "1–3", "4", "steps 1 to 3 = half natural turn", "4–6 backing LOD or DC".
var piecePattern = lazily(`(?i)^\s*(?:steps?\s+)?(\d{1,3})(?:\s*(?:-|–|—|to|bis|à|a)\s*(\d{1,3}))?(?:\s+([^=:]*?))??\s*(?:(?:=|:|called\b)\s*(\S.*?))?\s*$`)

// pieces reads the parts of a figure that are danced by themselves, "1–3, 4–6 = second half".
func (p *parser) pieces(at extent) (list []Piece) {
	for one := range p.listed(at, ",;") {
		m := piecePattern.FindStringSubmatch(p.src.slice(one))
		var begins Stance
		if m != nil && m[3] != "" {
			begins = p.beginnings(one, m[3])
		}
		if m == nil || m[3] != "" && begins.Facing[Leader].Stand == NoStand {
			p.add("bad-value", one, quoted(p.src.slice(one))+" is not a part of a figure", "write its first and last step, and its name if it has one: 1–3 = half turn")
			continue
		}
		from, _ := strconv.Atoi(m[1]) // digits
		to := from
		if m[2] != "" {
			to, _ = strconv.Atoi(m[2])
		}
		piece := Piece{From: from - 1, To: to, Name: headingText(m[4]), Begins: begins.Facing[Leader], Or: begins.Or, at: one}
		switch {
		case from < 1 || to < from:
			p.add("steps-range", one, quoted(p.src.slice(one))+" goes backwards", "write the first step, then the last")
		case slices.ContainsFunc(list, func(other Piece) bool { return other.From == piece.From && other.To == piece.To }):
			p.add("said-twice", one, "this part is given twice", "keep one")
		default:
			list = append(list, piece)
		}
	}
	return list
}

// beginnings reads the alignments on which a part may begin; it says nothing if they can't be read.
func (p *parser) beginnings(at extent, text string) Stance {
	at.from += strings.Index(p.src.slice(at), text)
	at.to = at.from + len(text)
	var r reading
	words, _ := lex().split(text, at.from)
	if _, n := lex().stand.longest(words); n > 0 || len(words) == 0 || lex().stands[words[0].text] == NoStand || p.alignment(&r, words) == 0 {
		return Stance{}
	}
	return p.stance(at)
}

// beyond reports the parts of a figure that its chart doesn't have, and drops them.
func (p *parser) beyond(fig *Figure) {
	fig.Parts = slices.DeleteFunc(fig.Parts, func(piece Piece) bool {
		if piece.To <= len(fig.Rows) || len(fig.Rows) == 0 {
			return false
		}
		p.add("steps-range", piece.at, fmt.Sprintf("%s has only %s", fig.Name, Steps(0, len(fig.Rows))), "")
		return true
	})
}

// begun reads the alignments on which a figure is properly begun, "DW, LOD", "backing DC, LOD" or "anywhere".
func (p *parser) begun(at extent) (list []Alignment) {
	stand := Facing
	if Key(p.src.slice(at)) == anywhere {
		return everywhere()
	}
	for one := range p.listed(at, ",;") {
		words, _ := lex().split(p.src.slice(one), one.from)
		for len(words) > 0 {
			from := skip(words, 0, "or", "and")
			if words = words[from:]; len(words) == 0 {
				break
			}
			if s := lex().stands[words[0].text]; s != NoStand {
				stand, words = s, words[1:]
			}
			d, n := lex().direction(words)
			if n == 0 {
				text := p.src.slice(one)
				p.add("unknown-direction", one, quoted(text)+" is not a direction in the hall", didYouMean(text, directionNames[:]))
				break
			}
			if a := (Alignment{stand, d}); !slices.Contains(list, a) {
				list = append(list, a)
			}
			words = words[n:]
		}
	}
	return list
}

// family reads the name of a family.
func (p *parser) family(at extent) Family {
	f, ok := ParseFamily(p.src.slice(at))
	if !ok {
		p.add("bad-value", at, quoted(p.src.slice(at))+" is no family of dancing", "write one of "+strings.Join(Families(), ", "))
	}
	return f
}

// listed yields what stands between the marks of a list, without what is empty.
func (p *parser) listed(at extent, marks string) func(func(extent) bool) {
	return func(yield func(extent) bool) {
		from := at.from
		for i, c := range p.src.slice(at) + marks[:1] {
			if !strings.ContainsRune(marks, c) {
				continue
			}
			one := p.trimmed(extent{from, at.from + i})
			if from = at.from + i + 1; one.from < one.to && !yield(one) {
				return
			}
		}
	}
}
