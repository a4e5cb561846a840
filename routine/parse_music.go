package routine

import (
	"errors"
	"fmt"
	"path"
	"slices"
	"strconv"
	"strings"
)

// music reads the settings for the song.
func (p *parser) music(settings map[string]setting) {
	m, bar := &p.sheet.Music, p.sheet.Dance.Metre.Bar()
	if set(p, settings["music"], &m.File, "name a file in the sheet's folder, or in a folder below it: music: song.ogg", parseSongFile) {
		m.At = p.src.span(settings["music"].at.from, settings["music"].at.to)
	}
	set(p, settings["music begins"], &m.Bar, "write \"bar 9\" or \"after the introduction\"", parseMusicBegins)
	set(p, settings["phrases"], &m.Phrases, "write lengths in bars, \"8 8 4 8\", or in beats, \"8 × 4, 10, 8 beats\"",
		func(text string) ([]Beats, error) { return parsePhrases(text, bar) })
	set(p, settings["highlights"], &m.Highlights, "write \"bar 44, bar 79\"",
		func(text string) ([]Beats, error) { return parseHighlights(text, bar) })
}

// parseSongFile reads the name of a file in the sheet's folder, or below it.
func parseSongFile(text string) (string, error) {
	switch clean := path.Clean(text); {
	case strings.ContainsAny(text, "\\:\x00"), Plain(text) != text:
		return "", errors.New("is not a file name that works on every system")
	case path.IsAbs(text), clean == ".", clean == "..", strings.HasPrefix(clean, "../"):
		return "", errors.New("is not in the sheet's folder or below it")
	default:
		return clean, nil
	}
}

var musicBeginsPattern = lazily(`(?i)^\s*(?:bar\s+(\d{1,4})|after\s+(?:the\s+)?intro(?:duction)?)\s*$`)

// parseMusicBegins reads "bar 9" or "after the introduction"; bar is 0 for the latter.
func parseMusicBegins(text string) (bar int, err error) {
	m := musicBeginsPattern.FindStringSubmatch(text)
	if m == nil {
		return 0, errors.New("is not a place in a song")
	}
	if m[1] == "" {
		return 0, nil
	}
	if bar, _ = strconv.Atoi(m[1]); bar < 1 { // only digits
		return 0, errors.New("is before the first bar, which is bar 1")
	}
	return bar, nil
}

// parsePhrases reads "8 8 4" or "8 × 4, 10, 8 beats": lengths in bars or beats, and how many times each
// comes.
func parsePhrases(text string, bar Beats) (phrases []Beats, err error) {
	m := phrasesPattern.FindStringSubmatch(text)
	if m == nil {
		return nil, errors.New("is not a list of phrase lengths")
	}
	unit := bar
	if strings.HasPrefix(strings.ToLower(m[2]), "beat") {
		unit = Beat
	}
	for rest := strings.Trim(m[1], " \t,"); rest != ""; {
		p := phrasePattern.FindStringSubmatch(rest)
		if p == nil {
			return nil, errors.New("is not a list of phrase lengths")
		}
		rest = rest[len(p[0]):]
		length, err := strconv.Atoi(p[1])
		times := 1
		if p[2] != "" && err == nil {
			times, err = strconv.Atoi(p[2])
		}
		if err != nil || length < 1 || Beats(length) > longestPhrase*bar/unit || times < 1 || times > mostPhrases-len(phrases) {
			return nil, fmt.Errorf("has a phrase that is not 1 to %d bars long, or more than %d phrases", longestPhrase, mostPhrases)
		}
		for range times {
			phrases = append(phrases, Beats(length)*unit)
		}
	}
	if len(phrases) == 0 {
		return nil, errors.New("is not a list of phrase lengths")
	}
	return phrases, nil
}

var highlightPattern = lazily(`(?i)^\s*(bar|beat)\s+(\d{1,4})\s*$`)

// parseHighlights reads "write \"bar 44, bar 79\"" or "beat 88", from where the dance begins.
func parseHighlights(text string, bar Beats) (highlights []Beats, err error) {
	for _, item := range strings.Split(text, ",") {
		m := highlightPattern.FindStringSubmatch(item)
		if m == nil {
			return nil, errors.New("is not a list of places in a song")
		}
		unit := bar
		if strings.EqualFold(m[1], "beat") {
			unit = Beat
		}
		n, _ := strconv.Atoi(m[2]) // digits
		if n < 1 {
			return nil, errors.New("is before the first place, which is bar 1 or beat 1")
		}
		if len(highlights) == mostPhrases {
			return nil, fmt.Errorf("has more than %d places", mostPhrases)
		}
		highlights = append(highlights, Beats(n-1)*unit)
	}
	slices.Sort(highlights)
	return highlights, nil
}

// Bounds of what a sheet may say about a song.
const (
	mostPhrases   = 500
	longestPhrase = 64 // bars
)

var (
	phrasesPattern = lazily(`(?i)^([\d\s,x×]+?)\s*(bars?|beats?)?\s*$`)
	phrasePattern  = lazily(`(?i)^(\d+)(?:\s*[x×]\s*(\d+))?(?:\s*,\s*|\s+|$)`)
)
