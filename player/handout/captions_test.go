package handout_test

import (
	"bytes"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/player"
	"dance.example/slowquick/player/handout"
	"dance.example/slowquick/player/handout/captions"
)

// caption is a cue as parsed.
type caption struct {
	from, to float64
	text     string
	place    string // "", "left" or "right"
}

var arrow = regexp.MustCompile(`^(\d\d+):(\d\d):(\d\d)([.,])(\d\d\d) --> (\d\d+):(\d\d):(\d\d)([.,])(\d\d\d)$`)

// times reads a cue's line of times, as W3C's WebVTT has it: hours, minutes and seconds, and three
// decimals after the point.
func times(t testing.TB, line, point string) (from, to float64) {
	t.Helper()
	m := arrow.FindStringSubmatch(line)
	require.NotNil(t, m, "no times: %q", line)
	require.Equal(t, []string{point, point}, []string{m[4], m[9]})
	second := func(part []string) float64 {
		at := 0.0
		for i, unit := range []float64{3600, 60, 1} {
			n, err := strconv.Atoi(part[i])
			require.NoError(t, err)
			at += unit * float64(n)
		}
		ms, err := strconv.Atoi(part[4])
		require.NoError(t, err)
		return at + float64(ms)/1000
	}
	return second(m[1:6]), second(m[6:11])
}

func vtt(t testing.TB, k captions.Kind, timeline *player.Timeline, o handout.Options) (list []caption) {
	t.Helper()
	var out bytes.Buffer
	require.NoError(t, k.WebVTT(&out, timeline, o))
	require.True(t, utf8.Valid(out.Bytes()))
	blocks := strings.Split(strings.TrimSuffix(out.String(), "\n"), "\n\n")
	require.Regexp(t, `^WEBVTT( .*)?$`, blocks[0])
	unescape := strings.NewReplacer("&lt;", "<", "&gt;", ">", "&amp;", "&")
	for _, block := range blocks[1:] {
		head, text, ok := strings.Cut(block, "\n")
		require.True(t, ok, "a cue without text: %q", block)
		require.NotContains(t, text, "-->")
		require.NotContains(t, text, "<")
		place := ""
		for settings, name := range map[string]string{" position:25% size:48%": "left", " position:75% size:48%": "right"} {
			if before, found := strings.CutSuffix(head, settings); found {
				head, place = before, name
			}
		}
		from, to := times(t, head, ".")
		list = append(list, caption{from, to, unescape.Replace(text), place})
	}
	return list
}

func srt(t testing.TB, k captions.Kind, timeline *player.Timeline, o handout.Options) (list []caption) {
	t.Helper()
	var out bytes.Buffer
	require.NoError(t, k.SubRip(&out, timeline, o))
	for i, block := range strings.Split(strings.TrimSuffix(out.String(), "\n\n"), "\n\n") {
		parts := strings.SplitN(block, "\n", 3)
		require.Len(t, parts, 3)
		require.Equal(t, fmt.Sprint(i+1), parts[0])
		require.NotContains(t, parts[2], "-->")
		from, to := times(t, parts[1], ",")
		place := ""
		for tag, name := range map[string]string{`{\an1}`: "left", `{\an3}`: "right"} {
			if rest, found := strings.CutPrefix(parts[2], tag); found {
				parts[2], place = rest, name
			}
		}
		list = append(list, caption{from, to, strings.ReplaceAll(parts[2], "\u2060", ""), place})
	}
	return list
}

// TestCaptionsFollowEachOther: each is shown from the millisecond in which its count is heard until the
// next, and SubRip says what WebVTT does.
func TestCaptionsFollowEachOther(t *testing.T) {
	for name, timeline := range routines(t) {
		for k := range captions.Names {
			o := wholeRoutine()
			o.Times, o.Settings.Rest, o.Settings.Percent = 2, 1, 90
			cues := vtt(t, captions.Kind(k), timeline, o)
			assert.Equal(t, cues, srt(t, captions.Kind(k), timeline, o), name)
			require.NotEmpty(t, cues)
			assert.Zero(t, cues[0].from)
			for _, place := range []string{"", "left", "right"} {
				own := at(place, cues)
				for i := 1; i < len(own); i++ {
					assert.Less(t, own[i-1].from, own[i].from, name)
					assert.Equal(t, own[i-1].to, own[i].from, name)
				}
			}
		}
	}
}

// at returns the cues in a place.
func at(place string, cues []caption) []caption {
	return slices.DeleteFunc(slices.Clone(cues), func(c caption) bool { return c.place != place })
}

// TestStepsCanBeRead: no caption has more than 42 letters, or more than 20 for each second that it is shown,
// of any figure of the library; and a half bar is one caption.
func TestStepsCanBeRead(t *testing.T) {
	for name, timeline := range routines(t) {
		for _, o := range variants(timeline) {
			for _, c := range vtt(t, captions.Steps, timeline, o) {
				letters := utf8.RuneCountInString(c.text)
				assert.LessOrEqual(t, letters, 42, "%s: %s", name, c.text)
				assert.LessOrEqual(t, float64(letters), 20*(c.to-c.from)+0.1, "%s, %.3f s: %s", name, c.from, c.text)
			}
		}
	}
	var said []string
	for _, c := range at("left", vtt(t, captions.Steps, lantern(t), wholeRoutine()))[:5] {
		said = append(said, fmt.Sprintf("%.3f %s", c.from, c.text))
	}
	assert.Equal(t, []string{"0.000 Leader", "2.143 LF forward", "2.679 replace side close", "3.750 LF side · RF back", "4.821 replace side close"}, said)
}

func TestChaptersAreTheFigures(t *testing.T) {
	var names []string
	for _, c := range vtt(t, captions.Figures, lantern(t), wholeRoutine()) {
		names = append(names, c.text)
	}
	assert.Equal(t, []string{"Lead-in", "Closed basic", "Closed basic", "New York to the left side", "New York to the right side", "Boathouse step",
		"Closed basic, steps 1–5", "Spot turn to the left", "Time step", "Boathouse step", "Boathouse step"}, names)
}

func TestACountTooMany(t *testing.T) {
	o := wholeRoutine()
	o.Times = handout.MostTimes
	timeline := timeline(t, strings.Replace(late, "Late lantern × 2", "Late lantern × 99\n2. Late lantern × 99\n2. Late lantern × 99\n2. Late lantern × 99\n2. Late lantern × 99\n2. Late lantern × 99\n2. Late lantern × 99\n2. Late lantern × 99\n2. Late lantern × 99\n2. Late lantern × 99\n2. Late lantern × 99", 1))
	assert.ErrorContains(t, captions.Counts.WebVTT(&bytes.Buffer{}, timeline, o), "write captions: more than a million counts")
}
