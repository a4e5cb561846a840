package routine

import (
	"cmp"
	"slices"
	"strconv"
	"strings"
)

// ReadChapter reads a sheet that defines its own dance, with every figure checked. It must be as [Tidy] leaves it:
// nothing in it is read as meant.
func ReadChapter(name string, src []byte) (*Sheet, []Finding) {
	p := newParser(name, src, EmptyBook{})
	if p.readable(src) {
		p.top()
		p.rest()
	}
	c := checker{findings: p.findings, sheet: p.sheet}
	c.figures()
	c.sequences()
	return p.sheet, Sorted(p.findings.list)
}

// ReadDance reads only the front matter of a chapter. What is missing or can't be read is as in a plain dance.
func ReadDance(name string, src []byte) *Dance {
	front, _ := frontEnd(src)
	p := newParser(name, src[:lineAt(src, front.to)], EmptyBook{})
	p.frontMatter(front)
	return p.sheet.Dance
}

// dance reads what a chapter says about its own dance. Whatever is missing or can't be read is as in a
// plain dance.
func (p *parser) dance(settings map[string]setting) *Dance {
	d := plainDance()
	if s, ok := settings["dance"]; ok {
		d.Name = cmp.Or(headingText(s.value), d.Name)
	} else {
		p.add("dance-missing", settings["metre"].key, "the chapter does not name its dance", "add a line \"dance: cha-cha\"")
	}
	for _, s := range settings["also called"].values {
		d.Aliases = append(d.Aliases, headingText(s.value))
	}
	metreKnown := set(p, settings["metre"], &d.Metre, "write 2/4, 3/4 or 4/4", orNot("a metre", ParseMetre))
	for key, to := range map[string]*Beats{"slow": &d.Slow, "quick": &d.Quick} {
		set(p, settings[key], to, beatsHint, beatsUpTo(longestCount))
	}
	for key, to := range map[string]*Beats{"and": &d.And, "a": &d.A} {
		set(p, settings[key], to, beatsHint, beatsUpTo(Beat-1))
	}
	set(p, settings["begins on"], &d.Begins, "", wholeNumber(d.Metre.Beats))
	set(p, settings["phrase"], &d.PhraseBars, "", wholeNumber(longestPhrase))
	set(p, settings["numbers"], &d.FigureNumbers, "", orNot("bar or figure", either("bar", "figure")))
	set(p, settings["travels"], &d.Travels, "", orNot("no or yes", either("no", "yes")))
	if s := settings["family"]; s.at != (extent{}) && !s.bad {
		d.Family = p.family(s.at)
	}
	var usual Alignment
	if set(p, settings["usual start"], &usual, didYouMean(settings["usual start"].value, directionNames[:]), orNot("a direction in the hall", parseStart)) {
		d.UsualStart = &usual
	}
	for _, s := range settings["sequences"].values {
		d.Sequences, d.sequencesAt = append(d.Sequences, namesIn(s.value)), append(d.sequencesAt, s.at)
	}
	p.stride(&d.Stride, settings)
	d.Stride.Source = cmp.Or(headingText(settings["step source"].value), d.Stride.Source)
	p.rhythm(&d.Rhythm, settings, d.Metre, metreKnown)
	if s, ok := settings["accents"]; ok {
		d.Accents = setAll(p, s, "", wholeNumber(d.Metre.Beats))
	}
	d.Sayings = setAll(p, settings["words"], "write a word for each count: \"4 & 1 = cha cha cha\"", orNot("a saying", parseSaying))
	d.Usual = TempoRange{}
	p.tempi("usual", settings, d.Metre, &d.Usual, &d.UsualSource)
	p.tempi("competition", settings, d.Metre, &d.Competition, &d.CompetitionSource)
	d.Usual = cmp.Or(d.Usual, d.Competition, plainTempi)
	return d
}

// parseStart reads the alignment on which the leader begins, "DW" or "backing LOD".
func parseStart(text string) (Alignment, bool) {
	stand := Facing
	if first, rest, ok := strings.Cut(strings.TrimSpace(text), " "); ok && lex().stands[fold(first)] != NoStand {
		stand, text = lex().stands[fold(first)], rest
	}
	d, ok := ParseDirection(text)
	return Alignment{stand, d}, ok
}

// namesIn splits a sequence into the names of its figures.
func namesIn(text string) []string {
	names := strings.Split(text, ";")
	for i := range names {
		names[i] = headingText(names[i])
	}
	return names
}

// sequences reports what the dance's sequences name that the chapter does not have.
func (c *checker) sequences() {
	for i, names := range c.sheet.Dance.Sequences {
		for _, name := range names {
			has := func(fig *Figure) bool { _, _, ok := fig.Named(name); return ok }
			if c.sheet.Defines && !slices.ContainsFunc(c.sheet.Figures, has) {
				c.add("unknown-figure", c.sheet.Dance.sequencesAt[i], "no figure of the chapter, nor a part that is used by itself, is called "+quoted(name), "")
			}
		}
	}
}

var metrePattern = lazily(`^\s*(\d{1,2})\s*/\s*(1|2|4|8|16)\s*$`)

// ParseMetre reads "3/4", of up to 16 beats.
func ParseMetre(text string) (Metre, bool) {
	m := metrePattern.FindStringSubmatch(text)
	if m == nil {
		return Metre{}, false
	}
	beats, _ := strconv.Atoi(m[1]) // digits
	unit, _ := strconv.Atoi(m[2])
	return Metre{beats, unit}, beats >= 1 && beats <= 16
}

const beatsHint = "write 1, 1/2 or 1/4"

// beatsUpTo returns a parser of lengths that are more than 0 and at most "most".
func beatsUpTo(most Beats) func(string) (Beats, error) {
	return orNot("a number of beats", func(text string) (Beats, bool) {
		b, ok := parseBeats(text)
		return b, ok && 0 < b && b <= most
	})
}

// either returns a parser of two words, true for the second.
func either(no, yes string) func(string) (is, ok bool) {
	return func(text string) (is, ok bool) {
		is = Key(text) == yes
		return is, is || Key(text) == no
	}
}

// tempi reads a range of tempi and its source.
func (p *parser) tempi(key string, settings map[string]setting, m Metre, to *TempoRange, source *string) {
	s, ok := settings[key]
	if !ok || s.bad {
		return
	}
	slow, fast, err := ParseTempo(s.value, m)
	switch {
	case err != nil:
		p.add("tempo-unreadable", s.at, err.Error(), "write it as 28–32 bars/min")
	case slow > fast:
		p.add("bad-value", s.at, quoted(s.value)+" is not a range from slow to fast", "put the slower tempo first: 28–32 bars/min")
	}
	*to = TempoRange{min(slow, fast), max(slow, fast)}
	*source = headingText(settings[key+" source"].value)
}
