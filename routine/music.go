package routine

import (
	"errors"
	"fmt"
	"path"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// Music is what a sheet says of the song that it is danced to. The zero value is
// nothing.
type Music struct {
	File string // with slashes, within the sheet's folder; "" for none
	At   Span   // where the sheet says so
	Bar  int    // of the song, from 1, with which the dance begins; 0 for the first after the introduction

	// Phrases are how long those of the song are, from where the dance begins; after
	// the last they begin again. None if they are as the dance's usually are.
	Phrases []Beats
	// Highlights are where they are, from where the dance begins, ascending.
	Highlights []Beats
}

// Bounds of what is told of a song.
const (
	mostPhrases   = 500
	longestPhrase = 64 // bars
)

// music reads what is set of the song.
func (p *parser) music(settings map[string]setting) {
	m, bar := &p.sheet.Music, p.sheet.Dance.Metre.Bar()
	read := func(key, hint string, f func(s setting) error) {
		s, ok := settings[key]
		if !ok || s.bad {
			return
		}
		if err := f(s); err != nil {
			p.add("bad-value", s.at, quoted(s.value)+": "+err.Error(), hint)
		}
	}
	read("music", "music: song.ogg, a file beside the sheet or in a folder below", func(s setting) (err error) {
		m.At = p.src.span(s.at.from, s.at.to)
		m.File, err = parseSongFile(s.value)
		return err
	})
	read("music begins", "bar 9, or after the introduction", func(s setting) (err error) {
		m.Bar, err = parseMusicBegins(s.value)
		return err
	})
	read("phrases", "8 8 4 8, in bars, or 8 × 4, 10, 8 beats", func(s setting) (err error) {
		m.Phrases, err = parsePhrases(s.value, bar)
		return err
	})
	read("highlights", "bar 44, bar 79", func(s setting) (err error) {
		m.Highlights, err = parseHighlights(s.value, bar)
		return err
	})
}

// parseSongFile reads the name of a file that lies in the sheet's folder, or below it.
func parseSongFile(text string) (string, error) {
	switch clean := path.Clean(text); {
	case strings.ContainsAny(text, "\\:\x00"), plain(text) != text:
		return "", errors.New("that is no name of a file that can be used everywhere")
	case path.IsAbs(text), clean == ".", clean == "..", strings.HasPrefix(clean, "../"):
		return "", errors.New("a song lies in the folder of its sheet, or below it")
	default:
		return clean, nil
	}
}

var musicBeginsPattern = regexp.MustCompile(`(?i)^\s*(?:bar\s+(\d{1,4})|after\s+(?:the\s+)?intro(?:duction)?)\s*$`)

// parseMusicBegins reads "bar 9" or "after the introduction".
func parseMusicBegins(text string) (bar int, err error) {
	m := musicBeginsPattern.FindStringSubmatch(text)
	if m == nil {
		return 0, errors.New("that is no place in a song")
	}
	if m[1] == "" {
		return 0, nil
	}
	if bar, _ = strconv.Atoi(m[1]); bar < 1 { // only digits
		return 0, errors.New("bars are counted from 1")
	}
	return bar, nil
}

var (
	phrasesPattern = regexp.MustCompile(`(?i)^([\d\s,x×]+?)\s*(bars?|beats?)?\s*$`)
	phrasePattern  = regexp.MustCompile(`(?i)^(\d+)(?:\s*[x×]\s*(\d+))?(?:\s*,\s*|\s+|$)`)
)

// parsePhrases reads "8 8 4" or "8 × 4, 10, 8 beats": lengths in bars or beats, and how
// often each comes.
func parsePhrases(text string, bar Beats) (phrases []Beats, err error) {
	m := phrasesPattern.FindStringSubmatch(text)
	if m == nil {
		return nil, errors.New("those are no lengths of phrases")
	}
	unit := bar
	if strings.HasPrefix(strings.ToLower(m[2]), "beat") {
		unit = Beat
	}
	for rest := strings.Trim(m[1], " \t,"); rest != ""; {
		p := phrasePattern.FindStringSubmatch(rest)
		if p == nil {
			return nil, errors.New("those are no lengths of phrases")
		}
		rest = rest[len(p[0]):]
		length, err := strconv.Atoi(p[1])
		times := 1
		if p[2] != "" && err == nil {
			times, err = strconv.Atoi(p[2])
		}
		if err != nil || length < 1 || Beats(length) > longestPhrase*bar/unit || times < 1 || times > mostPhrases-len(phrases) {
			return nil, fmt.Errorf("a phrase has from 1 to %d bars, and there are at most %d", longestPhrase, mostPhrases)
		}
		for range times {
			phrases = append(phrases, Beats(length)*unit)
		}
	}
	if len(phrases) == 0 {
		return nil, errors.New("those are no lengths of phrases")
	}
	return phrases, nil
}

var highlightPattern = regexp.MustCompile(`(?i)^\s*(bar|beat)\s+(\d{1,4})\s*$`)

// parseHighlights reads "bar 44, bar 79" or "beat 88", from where the dance begins.
func parseHighlights(text string, bar Beats) (highlights []Beats, err error) {
	for _, item := range strings.Split(text, ",") {
		m := highlightPattern.FindStringSubmatch(item)
		if m == nil {
			return nil, errors.New("those are no places in a song")
		}
		unit := bar
		if strings.EqualFold(m[1], "beat") {
			unit = Beat
		}
		n, _ := strconv.Atoi(m[2]) // digits
		if n < 1 || len(highlights) == mostPhrases {
			return nil, errors.New("bars and beats are counted from 1")
		}
		highlights = append(highlights, Beats(n-1)*unit)
	}
	slices.Sort(highlights)
	return highlights, nil
}

// Phrase is the phrase of a song that a beat lies in: which, from 1, and from where to
// where it lasts. Before the dance begins there are phrases as the first.
func (s *Score) Phrase(at Beats) (number int, from, to Beats) {
	phrases := s.Music.Phrases
	if len(phrases) == 0 {
		phrases = []Beats{Beats(max(s.Dance.PhraseBars, 1)) * s.Dance.Metre.Bar()}
	}
	var all Beats
	for _, p := range phrases {
		all += p
	}
	if at < 0 {
		from := at.Floor(phrases[0])
		return int(from/phrases[0]) + 1, from, from + phrases[0]
	}
	from = at.Floor(all)
	number = int(from/all) * len(phrases)
	for _, p := range phrases {
		number++
		if from+p > at {
			return number, from, from + p
		}
		from += p
	}
	return number, from, from + phrases[0] // not reached: the phrases fill the round
}

// phrased finds figures that go on over the end of a phrase, if the sheet tells those
// of its song.
func (c *checker) phrased(s *Score) {
	if len(s.Music.Phrases) == 0 {
		return
	}
	bar := s.Dance.Metre.Bar()
	for i := range s.Passages {
		p := &s.Passages[i]
		for at := max(p.Start, 0); at < p.End; {
			number, _, to := s.Phrase(at)
			// What begins, or ends, less than half a bar after its phrase keeps to it.
			if 2*(to-p.Start) >= bar && 2*(p.End-to) >= bar {
				c.report("phrase-crossed", s.Items[p.Item].At, fmt.Sprintf("phrase %d of the song ends after bar %s, in the middle of %s", number, barText(to, bar), quoted(p.Figure.Name)),
					"begin a figure with the phrase, or set \"phrases\" as the song has them")
				break
			}
			at = to
		}
	}
}

// barText is after which bar a beat comes.
func barText(at, bar Beats) string {
	if at%bar == 0 {
		return strconv.Itoa(int(at / bar))
	}
	return fmt.Sprintf("%d and %s", at/bar, (at % bar).InBeats())
}

// SongFound is what was found of a sheet's song.
type SongFound struct {
	Bars    int    // whole ones, from where the dance begins on
	Trouble string // why it can't be danced to; "" if it can
}

// AgainstSong finds where a routine and its song do not end together. A routine may be
// danced several times.
func (s *Score) AgainstSong(song SongFound) []Finding {
	if len(s.Passages) == 0 {
		return nil
	}
	find := func(code Code, message, hint string) []Finding {
		return []Finding{{Code: code, Severity: explanations[code].Severity, Span: s.Music.At, Message: plain(message), Hint: hint}}
	}
	if song.Trouble != "" {
		return find("song-unusable", song.Trouble, "")
	}
	bar := s.Dance.Metre.Bar()
	danced := int((s.End - s.Start).Ceil(bar) / bar)
	bars := song.Bars
	switch times, left := bars/danced, bars%danced; {
	case times == 0:
		return find("song-short", fmt.Sprintf("the song ends %s before the routine: it has %s from where the dance begins, the routine has %d", Plural(danced-bars, "bar"), Plural(bars, "bar"), danced),
			"let the dance begin earlier (\"music begins\"), or dance less")
	case left > 0 && times == 1:
		return find("song-long", fmt.Sprintf("the song goes on for %s after the routine: it has %s from where the dance begins, the routine has %d", Plural(left, "bar"), Plural(bars, "bar"), danced), "")
	case left > 0:
		return find("song-long", fmt.Sprintf("the song goes on for %s after the routine has been danced %d times: it has %s from where the dance begins, the routine has %d", Plural(left, "bar"), times, Plural(bars, "bar"), danced), "")
	}
	return nil
}
