package routine

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"github.com/goccy/go-yaml"
	yamlast "github.com/goccy/go-yaml/ast"
	yamlparser "github.com/goccy/go-yaml/parser"
	"github.com/goccy/go-yaml/token"
)

// largestFront bounds the front matter, in bytes. The time to read deeply nested YAML grows faster than
// its length.
const largestFront = 8 << 10

// setting is one value of the front matter, or a list of them.
type setting struct {
	key    extent
	at     extent
	value  string
	values []setting
	bad    bool // not a possible value, which has been reported
}

var (
	sheetKeys = []string{"dance", "title", "tempo", "faces", "count", "count language", "lead-in", "floor", "forward step", "side step", "short step",
		"rhythm", "rhythm bars", "rhythm source", "music", "music begins", "phrases", "highlights", "teacher", "class", "date"}
	danceKeys = []string{"also called", "metre", "begins on", "slow", "quick", "and", "a", "numbers", "phrase", "accents",
		"words", "usual", "usual source", "competition", "competition source", "travels", "step source", "family", "usual start", "sequences", "sequences source"}
	listKeys = []string{"also called", "accents", "words", "rhythm", "sequences"}
)

// frontMatter reads the YAML at the top of the sheet.
func (p *parser) frontMatter(front extent) {
	settings, readable := p.settings(front)
	if _, defines := settings["metre"]; defines {
		p.sheet.Defines, p.sheet.Known = true, true
		p.sheet.Dance = p.dance(settings)
	} else if readable {
		p.namedDance(settings, front)
	}
	if title := headingText(settings["title"].value); title != "" {
		p.sheet.Title = title
	}
	p.lesson(settings)
	if s, ok := settings["faces"]; ok && !s.bad {
		if d, ok := ParseDirection(s.value); !ok {
			p.add("unknown-direction", s.at, quoted(s.value)+" is not a direction in the hall", didYouMean(s.value, directionNames[:]))
		} else {
			p.sheet.Faces, p.sheet.facesAt = &Alignment{Facing, d}, s.at
		}
	}
	set(p, settings["count"], &p.sheet.Style, styleHint, orNot("a way to count", ParseCountStyle))
	set(p, settings["count language"], &p.sheet.Language, "write English, German, French, Spanish or Italian", orNot("a language of counts", ParseLanguage))
	bars := p.sheet.LeadIn()
	set(p, settings["lead-in"], &bars, leadInHint, func(text string) (int, error) { return ParseLeadIn(text, p.sheet.Dance.Metre) })
	p.sheet.leadIn = bars - UsualLeadIn
	set(p, settings["floor"], &p.sheet.Floor, "write the length along the line of dance, then the width: 8 x 6 m", ParseRoom)
	p.music(settings)
	p.sheet.Stride, p.sheet.Rhythm = p.sheet.Dance.Stride, p.sheet.Dance.Rhythm
	if !p.sheet.Defines {
		p.stride(&p.sheet.Stride, settings)
		p.rhythm(&p.sheet.Rhythm, settings, p.sheet.Dance.Metre, p.sheet.Known)
	}
	p.sheet.Tempo = p.sheet.Dance.Tempo()
	if s, ok := settings["tempo"]; ok && !s.bad {
		t, last, err := ParseTempo(s.value, p.sheet.Dance.Metre)
		switch {
		case err != nil:
			d := p.sheet.Dance
			hint := d.TempoText(d.Tempo()) + " or " + trimNumber(d.Tempo().Float()) + " beats/min"
			if t, _, err := ParseTempo(s.value+" bars/min", d.Metre); err == nil { // only the unit is missing
				hint = d.TempoText(t) + ", or " + s.value + " beats/min"
			}
			p.add("tempo-unreadable", s.at, err.Error(), hint)
		case last != t:
			p.add("tempo-unreadable", s.at, "the tempo of a whole sheet can't change", "set a changing tempo below an item of the order: \"- tempo: "+s.value+"\"")
		default:
			p.sheet.Tempo, p.sheet.tempoAt = t, s.at
		}
	}
}

// stride reads the settings for the lengths of steps.
func (p *parser) stride(to *Stride, settings map[string]setting) {
	for key, to := range map[string]*Length{"forward step": &to.Forward, "side step": &to.Side, "short step": &to.Short} {
		set(p, settings[key], to, "write it as 60 cm or 0.6 m", func(text string) (Length, error) { return parseLength(text, shortestStep, longestStep) })
	}
}

const styleHint = "write count, slow/quick or words"

// set reads a setting into to and reports whether it could. A setting that the sheet does not have, or that
// has been reported, is left alone. Parse's error says of the value what it is not: "is not a length".
func set[T any](p *parser, s setting, to *T, hint string, parse func(string) (T, error)) bool {
	if s.at == (extent{}) || s.bad {
		return false
	}
	v, err := parse(s.value)
	if err != nil {
		p.add("bad-value", s.at, quoted(s.value)+" "+err.Error(), hint)
		return false
	}
	*to = v
	return true
}

// setAll reads the values of a list, leaving out those that can't be read.
func setAll[T any](p *parser, s setting, hint string, parse func(string) (T, error)) (all []T) {
	for _, v := range s.values {
		var one T
		if set(p, v, &one, hint, parse) {
			all = append(all, one)
		}
	}
	return all
}

// orNot returns a parser whose error says what a text is not.
func orNot[T any](what string, parse func(string) (T, bool)) func(string) (T, error) {
	return func(text string) (T, error) {
		v, ok := parse(text)
		if !ok {
			return v, errors.New("is not " + what)
		}
		return v, nil
	}
}

// danceInTitle returns a dance that is among the first words of a sheet, for a hint; "" if none is.
func (p *parser) danceInTitle() string {
	const most = 12
	start := p.src.text[:min(len(p.src.text), 200)]
	words := strings.FieldsFunc(string(start), func(r rune) bool { return r != '-' && !unicode.IsLetter(r) })
	words = words[:min(len(words), most)]
	for n := min(len(words), 2); n > 0; n-- { // "Viennese waltz" before "waltz"
		for i := range len(words) - n + 1 {
			if d, ok := p.sheet.book.Dance(strings.Join(words[i:i+n], " ")); ok {
				return strings.ToLower(d.Name)
			}
		}
	}
	return ""
}

// namedDance looks the sheet's dance up in the book.
func (p *parser) namedDance(settings map[string]setting, front extent) {
	s, ok := settings["dance"]
	if s.bad {
		return
	}
	if !ok {
		p.add("dance-missing", extent{front.from, front.from}, "the sheet does not say which dance it is", fmt.Sprintf("start the sheet with three lines: ---, \"dance: %s\" and ---", cmp.Or(p.danceInTitle(), "cha-cha")))
		return
	}
	d, ok := p.sheet.book.Dance(s.value)
	english := DanceNamed(s.value)
	if !ok && english != "" {
		d, ok = p.sheet.book.Dance(english)
	}
	if !ok {
		const own = "any dance works with its metre: write \"metre: 4/4\" below its name"
		dances := p.sheet.book.Dances()
		hint := own
		if near := Nearest(s.value, dances); len(near) > 0 {
			hint = "perhaps " + strings.Join(near, ", ") + "; " + own
		} else if english == "" && len(dances) > 0 {
			hint = own + "; the library has " + strings.Join(dances, ", ")
		}
		p.add("unknown-dance", s.at, "unknown dance "+quoted(s.value), hint)
		return
	}
	p.sheet.Dance, p.sheet.Known = d, true
}

// settings reads the mapping at the top of the sheet, by lower-case key. If it can't be read at all,
// that is reported and ok is false.
func (p *parser) settings(front extent) (out map[string]setting, ok bool) {
	out = map[string]setting{}
	if front.to-front.from > largestFront {
		p.add("too-large", front, fmt.Sprintf("the settings at the top are longer than %d KiB", largestFront>>10), "")
		return out, false
	}
	if strings.TrimSpace(p.src.slice(front)) == "" {
		return out, true
	}
	f := frontReader{p, front}
	pairs, ok := f.pairs()
	defines := slices.ContainsFunc(pairs, func(pair *yamlast.MappingValueNode) bool { return settingName(pair) == "metre" })
	for _, pair := range pairs {
		name := settingName(pair)
		if s, ok := f.read(name, pair, defines); ok {
			out[name] = s
		}
	}
	return out, ok
}

// frontReader reads the YAML in a range of the sheet.
type frontReader struct {
	*parser
	front extent
}

// pairs returns the pairs of the mapping. If there is no mapping, that is reported and ok is false.
func (f *frontReader) pairs() (pairs []*yamlast.MappingValueNode, ok bool) {
	file, err := yamlparser.ParseBytes([]byte(strings.ReplaceAll(f.src.slice(f.front), "\r\n", "\n")), 0)
	if err != nil {
		at, message := extent{f.front.from, f.front.from}, err.Error()
		if syntax := (*yaml.SyntaxError)(nil); errors.As(err, &syntax) {
			at, message = f.place(syntax.Token), yamlPlace.ReplaceAllString(syntax.Message, "")
		}
		f.add("front-matter", at, "the settings at the top can't be read here ("+Plain(message)+")", "write each line as \"name: value\", and a value that contains \": \" in quotes")
		return nil, false
	}
	if len(file.Docs) == 0 || file.Docs[0].Body == nil {
		return nil, true
	}
	switch body := file.Docs[0].Body.(type) {
	case *yamlast.MappingNode:
		return body.Values, true
	case *yamlast.MappingValueNode:
		return []*yamlast.MappingValueNode{body}, true
	default:
		f.add("front-matter", f.place(body.GetToken()), "the top of the sheet is not a list of settings", "write each line as \"name: value\"")
		return nil, false
	}
}

// place returns where a token stands in the sheet.
func (f *frontReader) place(t *token.Token) extent {
	if t == nil || t.Position == nil {
		return extent{f.front.from, f.front.from}
	}
	from := f.front.from + lineColumn(f.src.slice(f.front), t.Position.Line, t.Position.Column)
	rest, text := f.src.slice(extent{from, f.front.to}), strings.TrimSpace(t.Origin)
	if windows := strings.ReplaceAll(text, "\n", "\r\n"); strings.HasPrefix(rest, windows) {
		text = windows
	} else if !strings.HasPrefix(rest, text) {
		text, _, _ = strings.Cut(rest, "\n")
		text = strings.TrimRight(text, " \t\r")
	}
	return extent{from, from + len(text)}
}

// lineColumn returns the byte offset of a line and a column of a text; both count from 1, the column in runes.
func lineColumn(text string, line, column int) int {
	at := 0
	for ; line > 1; line-- {
		i := strings.IndexByte(text[at:], '\n')
		if i < 0 {
			return len(text)
		}
		at += i + 1
	}
	for i, r := range text[at:] {
		if column--; column < 1 || r == '\n' {
			return at + i
		}
	}
	return len(text)
}

// read reads one pair. An unknown name is reported and ok is false. An impossible value is reported and
// marked bad.
func (f *frontReader) read(name string, pair *yamlast.MappingValueNode, defines bool) (s setting, ok bool) {
	at := f.place(pair.Key.GetToken())
	switch forDance := slices.Contains(danceKeys, name); {
	case forDance && !defines:
		f.add("unknown-setting", at, quoted(name)+" has no effect here: it describes a dance, and only a chapter with a metre does that", "delete it")
		return s, false
	case !forDance && !slices.Contains(sheetKeys, name):
		known := sheetKeys
		if defines {
			known = slices.Concat(sheetKeys, danceKeys)
		}
		if near := misspelt(name, known); len(near) > 0 {
			f.add("unknown-setting", at, "unknown setting "+quoted(name), "perhaps "+strings.Join(near, ", "))
		} else {
			f.add("other-setting", at, quoted(name)+" is no setting of Slowquick's; it is left as it stands", "")
		}
		return s, false
	}
	s, readable := yamlValue(pair.Value, f.place)
	s.key, s.bad = at, true
	isList := slices.Contains(listKeys, name)
	switch {
	case !readable, len(s.values) > 0 && !isList:
		hint := ""
		if isList {
			hint = "write a value that contains \": \" in quotes"
		}
		f.add("bad-value", s.at, "the value of "+name+" is not plain text", hint)
	case s.value == "" && len(s.values) == 0:
		f.add("bad-value", s.at, name+" has no value", "")
	default:
		s.bad = false
		if isList && len(s.values) == 0 {
			s.values = []setting{s}
		}
	}
	return s, true
}

// yamlPlace is how the YAML parser's messages give a place, counted from the first line of the YAML.
var yamlPlace = lazily(` at \[\d+:\d+\]`)

// settingName returns the name that a pair sets, in lower case.
func settingName(pair *yamlast.MappingValueNode) string {
	return strings.ToLower(strings.TrimSpace(pair.Key.GetToken().Value))
}

// yamlValue reads a scalar or a list of scalars.
func yamlValue(n yamlast.Node, place func(*token.Token) extent) (setting, bool) {
	s := setting{at: place(n.GetToken())}
	switch n := n.(type) {
	case *yamlast.SequenceNode:
		for _, v := range n.Values {
			item, ok := yamlValue(v, place)
			if !ok || len(item.values) > 0 {
				return s, false
			}
			s.values = append(s.values, item)
		}
		return s, true
	case *yamlast.LiteralNode:
		s.value = strings.TrimSpace(n.Value.Value)
	case *yamlast.AliasNode, *yamlast.AnchorNode, *yamlast.TagNode:
		return s, false
	case *yamlast.NullNode: // nothing is written
	case yamlast.ScalarNode:
		s.value = strings.TrimSpace(n.GetToken().Value)
	default:
		return s, false
	}
	s.values = nil
	return s, true
}

var wholePattern = lazily(`^\s*(\d{1,6})\s*(?:bars?)?\s*$`)

// wholeNumber returns a parser of "8", "1 bar" or "8 bars", from 1 to most.
func wholeNumber(most int) func(string) (int, error) {
	return orNot(fmt.Sprintf("a number from 1 to %d", most), func(text string) (int, bool) {
		m := wholePattern.FindStringSubmatch(text)
		if m == nil {
			return 0, false
		}
		n, _ := strconv.Atoi(m[1]) // digits
		return n, n >= 1 && n <= most
	})
}
