package routine

import (
	"fmt"
	"strconv"
)

// phrased reports figures that cross the end of a phrase, if the sheet gives its song's phrases.
func (c *checker) phrased(s *Score) {
	if len(s.Music.Phrases) == 0 {
		return
	}
	bar := s.Dance.Metre.Bar()
	for i := range s.Passages {
		p := &s.Passages[i]
		// Where a figure does not last whole bars, such as six beats in 4/4, it and what comes after it
		// cross phrases by nature.
		if p.Figure.Length(p.From, p.To)%bar != 0 {
			return
		}
		for at := max(p.Start, 0); at < p.End; {
			number, _, to := s.Phrase(at)
			// A figure that begins or ends less than half a bar into a phrase still keeps to it.
			if 2*(to-p.Start) >= bar && 2*(p.End-to) >= bar {
				c.report("phrase-crossed", s.Items[p.Item].At, fmt.Sprintf("phrase %d of the song ends after bar %s, in the middle of %s", number, barText(to, bar), quoted(p.Figure.Name)),
					"start a figure with the phrase, or set \"phrases\" to what the song has")
				break
			}
			at = to
		}
	}
}

// barText names the bar after which a beat comes.
func barText(at, bar Beats) string {
	if at%bar == 0 {
		return strconv.Itoa(int(at / bar))
	}
	return fmt.Sprintf("%d and %s", at/bar, (at % bar).InBeats())
}

// SongFound is what was found out about a sheet's song.
type SongFound struct {
	Bars    int    // whole bars, from where the dance begins
	Trouble string // why it can't be danced to; "" if it can
}

// AgainstSong returns a finding if the routine, danced once or several times, does not end with its
// song.
func (s *Score) AgainstSong(song SongFound) []Finding {
	if len(s.Passages) == 0 {
		return nil
	}
	find := func(code Code, message, hint string) []Finding {
		return []Finding{NewFinding(code, s.Music.At, Plain(message), hint)}
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
	case left > 0:
		after := "the routine"
		if times > 1 {
			after += fmt.Sprintf(" has been danced %d times", times)
		}
		return find("song-long", fmt.Sprintf("the song goes on for %s after %s: it has %s from where the dance begins, the routine has %d", Plural(left, "bar"), after, Plural(bars, "bar"), danced), "")
	}
	return nil
}
