package routine

import (
	"cmp"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// ReadChapter reads a sheet that defines its own dance, with every figure checked.
func ReadChapter(name string, src []byte) (*Sheet, []Finding) {
	s, f := parse(name, src, EmptyBook{})
	c := checker{findings: f, sheet: s}
	c.figures()
	return s, f.sorted()
}

// chapterReader reads what a chapter says about its own dance.
type chapterReader struct {
	*parser
	settings map[string]setting
	dance    *Dance
}

// dance reads what a chapter says about its own dance. Whatever is missing or can't be read is as in a
// plain dance.
func (p *parser) dance(settings map[string]setting) *Dance {
	d := plainDance()
	r := chapterReader{p, settings, d}
	r.names()
	metreKnown := r.metre()
	r.beats("slow", &d.Slow, longestCount)
	r.beats("quick", &d.Quick, longestCount)
	r.beats("and", &d.And, Beat-1)
	r.beats("a", &d.A, Beat-1)
	r.number("begins on", d.Metre.Beats, &d.Begins)
	r.number("phrase", longestPhrase, &d.PhraseBars)
	d.FigureNumbers = r.choice("numbers", "bar", "figure") == "figure"
	d.Travels = r.choice("travels", "yes", "no") == "yes"
	p.stride(&d.Stride, settings)
	d.Stride.Source = cmp.Or(headingText(settings["step source"].value), d.Stride.Source)
	p.rhythm(&d.Rhythm, settings, d.Metre, metreKnown)
	r.accents()
	r.sayings()
	d.Usual = TempoRange{}
	r.tempi("usual", &d.Usual, &d.UsualSource)
	r.tempi("competition", &d.Competition, &d.CompetitionSource)
	d.Usual = cmp.Or(d.Usual, d.Competition, plainTempi)
	return d
}

// bad reports that a value is not what is asked for.
func (r *chapterReader) bad(s setting, what, hint string) {
	if !s.bad {
		r.add("bad-value", s.at, quoted(s.value)+" is not "+what, hint)
	}
}

func (r *chapterReader) names() {
	if s, ok := r.settings["dance"]; ok {
		r.dance.Name = cmp.Or(headingText(s.value), r.dance.Name)
	} else {
		r.add("dance-missing", r.settings["metre"].key, "the chapter does not name its dance", "add a line \"dance: cha-cha\"")
	}
	for _, s := range r.settings["also called"].values {
		r.dance.Aliases = append(r.dance.Aliases, headingText(s.value))
	}
}

var metrePattern = regexp.MustCompile(`^\s*(\d{1,2})\s*/\s*(\d{1,2})\s*$`)

// metre reports whether the metre can be read; otherwise the plain one stays.
func (r *chapterReader) metre() (known bool) {
	s := r.settings["metre"]
	if m := metrePattern.FindStringSubmatch(s.value); m != nil {
		beats, _ := strconv.Atoi(m[1]) // digits
		unit, _ := strconv.Atoi(m[2])
		if beats >= 1 && beats <= 16 && slices.Contains([]int{1, 2, 4, 8, 16}, unit) {
			r.dance.Metre = Metre{beats, unit}
			return true
		}
	}
	r.bad(s, "a metre", "write 2/4, 3/4 or 4/4")
	return false
}

// beats reads a length that is more than 0 and at most "most".
func (r *chapterReader) beats(key string, to *Beats, most Beats) {
	s, ok := r.settings[key]
	if !ok {
		return
	}
	b, ok := parseBeats(s.value)
	if !ok || b == 0 || b > most {
		r.bad(s, "a number of beats", "write 1, 1/2 or 1/4")
		return
	}
	*to = b
}

// number reads a number from 1 to most.
func (r *chapterReader) number(key string, most int, to *int) {
	if s, ok := r.settings[key]; ok {
		if n, ok := r.numberOf(s, most); ok {
			*to = n
		}
	}
}

// numberOf reads a number from 1 to most; ok is false, and it is reported, if the value is not one.
func (r *chapterReader) numberOf(s setting, most int) (n int, ok bool) {
	if n, ok = wholeNumber(s.value, most); !ok {
		r.bad(s, "a number from 1 to "+strconv.Itoa(most), "")
	}
	return n, ok
}

// choice reads one of some words, or returns "" if none is set.
func (r *chapterReader) choice(key string, words ...string) string {
	s, ok := r.settings[key]
	if !ok {
		return ""
	}
	i := slices.Index(words, Key(s.value))
	if i < 0 {
		r.bad(s, strings.Join(words, " or "), "")
		return ""
	}
	return words[i]
}

func (r *chapterReader) accents() {
	s, ok := r.settings["accents"]
	if !ok {
		return
	}
	r.dance.Accents = nil
	for _, v := range s.values {
		if n, ok := r.numberOf(v, r.dance.Metre.Beats); ok {
			r.dance.Accents = append(r.dance.Accents, n)
		}
	}
}

func (r *chapterReader) sayings() {
	for _, s := range r.settings["words"].values {
		saying, ok := parseSaying(s.value)
		if !ok {
			r.bad(s, "a saying", "write a word for each count: \"4 & 1 = cha cha cha\"")
			continue
		}
		r.dance.Sayings = append(r.dance.Sayings, saying)
	}
}

// tempi reads a range of tempi and its source.
func (r *chapterReader) tempi(key string, to *TempoRange, source *string) {
	s, ok := r.settings[key]
	if !ok || s.bad {
		return
	}
	slow, fast, err := ParseTempo(s.value, r.dance.Metre)
	switch {
	case err != nil:
		r.add("tempo-unreadable", s.at, err.Error(), "write it as 28–32 bars/min")
	case slow > fast:
		r.bad(s, "a range from slow to fast", "put the slower tempo first: 28–32 bars/min")
	}
	*to = TempoRange{min(slow, fast), max(slow, fast)}
	*source = headingText(r.settings[key+" source"].value)
}
