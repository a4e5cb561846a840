package player

import (
	"math"
	"slices"
	"sort"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/routine"
)

// Hits appends to dst the sounds that begin in [from, to), in order. It makes Course an
// [audio.Schedule]. The audio thread calls it, so it must not allocate.
func (c *Course) Hits(dst []audio.Hit, from, to int64) []audio.Hit {
	index := len(dst)
	ahead := int64(0) // words begin before the beats they are said on
	if c.sounds.Voice != nil {
		ahead = int64(longestMoment * c.rate)
	}
	i := sort.Search(len(c.legs), func(i int) bool { return c.legs[i].cut > float64(from) })
	for ; i < len(c.legs) && c.legs[i].from < float64(to+ahead)+1; i++ {
		l := &c.legs[i]
		own := len(dst)
		switch {
		case l.set.Quiet:
		case l.state == LeadIn:
			dst = callHit(dst, c.firstCall(l))
			dst = c.leadInHits(dst, l, from, to+ahead)
		case l.strike:
			if e := l.timeline.At(l.first); e >= 0 {
				dst = c.eventHits(dst, l, e, int64(nearest(l.from)), call{})
			}
		case l.state == Dancing:
			dst = c.danceHits(dst, l, from, to+ahead)
		}
		begin, end := from, to
		if l.cut < float64(to) {
			end = int64(l.cut)
		}
		if i > 0 && c.legs[i-1].cut <= l.from { // it starts with a change, before which nothing may be altered
			begin = max(from, int64(nearest(l.from)))
		}
		dst = inOrder(dst, own, begin, end)
	}
	return inOrder(dst, index, from, to)
}

// leadInHits appends the count of the whole beats before the first step.
func (c *Course) leadInHits(dst []audio.Hit, l *leg, from, to int64) []audio.Hit {
	bar := l.timeline.Score.Dance.Metre.Bar()
	for b := l.first.Ceil(routine.Beat); b < l.last; b += routine.Beat {
		at := l.heard(c.rate, 0, b)
		if at >= to {
			break
		}
		if at >= from {
			dst = c.countHits(dst, l, b, l.last, at, b%bar == 0)
		}
	}
	return dst
}

// countHits appends the click and the number of one beat before the first step.
func (c *Course) countHits(dst []audio.Hit, l *leg, beat, begins routine.Beats, at int64, barStart bool) []audio.Hit {
	dst = append(dst, c.beatHit(at, barStart, true))
	if l.say != nil {
		dst = c.wordHit(dst, l, numberWord(l.timeline.LeadInNumber(beat, begins)), at, call{})
	}
	return dst
}

func (c *Course) danceHits(dst []audio.Hit, l *leg, from, to int64) []audio.Hit {
	for k := l.runAt(c.rate, float64(from)-1); ; k++ {
		if k > 0 && (l.loop.Empty() || l.runBegin(c.rate, k) > float64(to)+1) {
			return dst
		}
		if k > 0 && l.set.Rest > 0 {
			dst = c.restHits(dst, l, k, from, to)
		}
		dst = c.strokes(dst, l, k, from, to)
		dst = c.callHits(dst, l, k, from, to)
		next := call{before: math.MinInt64} // the call that ends the event's figure
		first, last := l.start(k), l.end(k)
		// Start one event early, as its frame may be rounded up.
		begin := max(first, l.beat(c.rate, k, float64(from)-1)-1)
		for i := max(0, l.timeline.At(begin)); i < len(l.timeline.Events) && l.timeline.Events[i].At < last; i++ {
			e := &l.timeline.Events[i]
			if e.At < first {
				continue
			}
			at := l.heard(c.rate, k, e.At)
			if at >= to {
				return dst
			}
			if at >= from {
				if l.set.Call && e.At >= next.before {
					next = c.callFrom(l, k, e.Passage)
				}
				dst = c.eventHits(dst, l, i, at, next)
			}
		}
	}
}

// restHits appends the count of the rest before run-through k.
func (c *Course) restHits(dst []audio.Hit, l *leg, k int, from, to int64) []audio.Hit {
	bar := l.timeline.Score.Dance.Metre.Bar()
	for b := l.restFrom().Ceil(routine.Beat); b < l.loop.From; b += routine.Beat {
		if at := int64(nearest(l.restFrame(c.rate, k, b))); at >= from && at < to {
			dst = c.countHits(dst, l, b, l.loop.From, at, b%bar == 0)
		}
	}
	return dst
}

const (
	accentGain = 1
	beatGain   = 0.75
)

// beatHit returns the click of a beat.
func (c *Course) beatHit(at int64, barStart, accent bool) audio.Hit {
	h := audio.Hit{Frame: at, Sound: c.sounds.Kit.Block, Layer: ClickLayer, Gain: beatGain}
	if barStart {
		h.Sound = c.sounds.Kit.Bell
	}
	if accent {
		h.Gain = accentGain
	}
	return h
}

// eventHits appends the sounds of an event: the click, each partner's step, and the
// spoken count, unless the next figure is being called.
func (c *Course) eventHits(dst []audio.Hit, l *leg, event int, at int64, next call) []audio.Hit {
	e := &l.timeline.Events[event]
	if e.Split {
		dst = append(dst, audio.Hit{Frame: at, Sound: c.sounds.Kit.Tick, Layer: ClickLayer, Gain: accentGain})
	} else {
		dst = append(dst, c.beatHit(at, e.Beat == 1, e.Accent))
	}
	for p, sound := range [2]audio.Sound{c.sounds.Kit.Thump, c.sounds.Kit.Brush} {
		if s := e.Steps[p]; s != nil && !s.Stands() {
			dst = append(dst, audio.Hit{Frame: at, Sound: sound, Layer: StepLayers[p], Gain: 1, Pan: l.pan(s.Foot)})
		}
	}
	if l.say != nil {
		dst = c.wordHit(dst, l, spoken(e.Labels.In(l.timeline.Style(event, l.set.Count))), at, next)
	}
	return dst
}

// pan returns where a foot is heard: -1 is left, 1 right, 0 the middle.
func (l *leg) pan(f routine.Foot) float32 {
	if !l.set.FeetApart {
		return 0
	}
	return float32(f.Outward())
}

// wordHit appends a word, placed so that its moment falls on frame at, unless it would
// overlap a call (see [call]).
func (c *Course) wordHit(dst []audio.Hit, l *leg, word string, at int64, next call) []audio.Hit {
	sound, moment, ok := l.say(word)
	from := at - int64(moment)
	if !ok || next.overlaps(from, from+int64(len(sound))) || from < l.called.until {
		return dst
	}
	return append(dst, audio.Hit{Frame: from, Sound: sound, Layer: VoiceLayer, Gain: 1})
}

// strokes appends the rhythm of run-through k. The pattern is aligned with the first bar
// of the routine, whatever part of it is danced.
func (c *Course) strokes(dst []audio.Hit, l *leg, k int, from, to int64) []audio.Hit {
	rhythm := &l.timeline.Score.Rhythm
	if c.sounds.Band == nil || len(rhythm.Strokes) == 0 {
		return dst
	}
	period := routine.Beats(rhythm.Bars) * l.timeline.Score.Dance.Metre.Bar()
	begin := max(l.start(k), l.beat(c.rate, k, float64(from)-1)-1)
	for start := begin.Floor(period); ; start += period {
		for i := range rhythm.Strokes {
			s := &rhythm.Strokes[i]
			b := start + s.At
			if b < begin {
				continue
			}
			at := l.heard(c.rate, k, b)
			if b >= l.end(k) || at >= to {
				return dst
			}
			sound, ok := c.sounds.Band[s.Instrument]
			if !ok || at < from {
				continue
			}
			gain := float32(beatGain)
			if s.Accent {
				gain = accentGain
			}
			dst = append(dst, audio.Hit{Frame: at, Sound: sound, Layer: RhythmLayer, Gain: gain})
		}
	}
}

// inOrder sorts the hits from index on, and drops those outside [from, to).
func inOrder(hits []audio.Hit, index int, from, to int64) []audio.Hit {
	kept := hits[:index]
	for _, h := range hits[index:] {
		if h.Frame >= from && h.Frame < to {
			kept = append(kept, h)
		}
	}
	slices.SortStableFunc(kept[index:], func(a, b audio.Hit) int { return int(a.Frame - b.Frame) })
	return kept
}
