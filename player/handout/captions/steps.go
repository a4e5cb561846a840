package captions

import (
	"cmp"
	"math"
	"slices"
	"strings"
	"unicode/utf8"

	"dance.example/slowquick/player/handout"
	"dance.example/slowquick/player/harmless"
	"dance.example/slowquick/routine"
)

// What can be read of a caption: at most so many letters in a line, and in a second. Both are usual for
// subtitles, from memory.
const (
	mostLetters    = 42
	lettersASecond = 20
)

// stepCues shows steps by half bars, or bars of an odd number of beats, each as long as the next is not
// due, and in as many words as can be read by then. In a lead-in each partner's corner says whose it is.
func stepCues(r *handout.Timing, o *handout.Options) (cues []cue) {
	bar := r.Timeline.Score.Dance.Metre
	span := bar.Bar()
	if bar.Beats%2 == 0 {
		span /= 2
	}
	partners := o.Partners()
	for _, q := range partners {
		at := bottom
		if len(partners) == 2 {
			at = [...]corner{routine.Leader: bottomLeft, routine.Follower: bottomRight}[q]
		}
		var own []cue
		var steps [][]*routine.Step // of each of them
		const none = routine.Beats(math.MinInt64)
		group := none // of all that is danced
		for i := range r.Counts {
			c := &r.Counts[i]
			if c.Event < 0 {
				if i == 0 || r.Counts[i-1].Event >= 0 {
					own, steps, group = append(own, cue{from: c.Seconds, corner: at}), append(steps, nil), none
				}
				continue
			}
			step := r.Timeline.Events[c.Event].Steps[q]
			if step == nil {
				continue
			}
			if now := c.At - c.Beat + c.Beat.Floor(span); now != group {
				own, steps, group = append(own, cue{from: c.Seconds, corner: at}), append(steps, nil), now
			}
			steps[len(steps)-1] = append(steps[len(steps)-1], step)
		}
		for i := range own {
			if own[i].to = r.End; i+1 < len(own) {
				own[i].to = own[i+1].from
			}
			own[i].text = strings.ToUpper(q.String()[:1]) + q.String()[1:]
			if len(steps[i]) > 0 {
				own[i].text = readable(steps[i], own[i].to-own[i].from)
			}
		}
		cues = append(cues, own...)
	}
	slices.SortStableFunc(cues, func(a, b cue) int { return cmp.Compare(a.from, b.from) })
	return cues
}

// readable returns as much about steps as can be read in some seconds: all that is charted, or feet and
// ways, or ways only, or the first of those.
func readable(steps []*routine.Step, seconds float64) (text string) {
	most := min(mostLetters, int(lettersASecond*seconds+1e-6))
	fits := func(list []*routine.Step, say func(*routine.Step) string, between, after string) bool {
		var words []string
		for _, s := range list {
			words = append(words, harmless.Handout(say(s)))
		}
		text = strings.Join(words, between) + after
		return utf8.RuneCountInString(text) <= most
	}
	if fits(steps, (*routine.Step).Words, " · ", "") || fits(steps, footAndWay, " · ", "") || fits(steps, way, " ", "") {
		return text
	}
	for n := len(steps) - 1; n > 0 && !fits(steps[:n], way, " ", " …"); n-- {
	}
	return text
}

func footAndWay(s *routine.Step) string {
	if s.Stands() {
		return way(s)
	}
	return s.Foot.String() + " " + way(s)
}

// way returns where a foot goes, in as few letters as teachers write on a board; common practice.
func way(s *routine.Step) string {
	if s.Stands() || s.Way == routine.NoWay {
		return s.Where()
	}
	return shortWays.Replace(s.Way.String())
}

var shortWays = strings.NewReplacer("forward", "fwd", "diagonally", "diag", "half close", "close", "cross in front", "cross", "cross behind", "behind", "in place", "place")
