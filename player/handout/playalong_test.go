package handout_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/player"
	"dance.example/slowquick/player/handout"
)

// playAlong returns the page that plays a routine.
func playAlong(t testing.TB, timeline *player.Timeline, o handout.Options) []byte {
	t.Helper()
	track := handout.ClickTrack{Options: o, Sounds: player.Sounds{Kit: audio.NewKit(44100)}, Levels: player.DefaultLevels(o.Shown), Rate: 44100, Bits: 16}
	var out bytes.Buffer
	require.NoError(t, track.PlayAlong(t.Context(), &out, nil, timeline))
	return out.Bytes()
}

// followed is what the script of such a page follows.
type followed struct {
	Counts []struct {
		At, Beat           float64
		Said               string
		Figure, Step, Line int
		Turn               int
	}
	End, First, Last float64
	Each             int
	Poses            [][]int
}

func followedBy(t testing.TB, page []byte) (f followed) {
	t.Helper()
	for _, script := range parsePage(t, page).all("script") {
		if script.attr("id") == "score" {
			require.NoError(t, json.Unmarshal([]byte(script.FirstChild.Data), &f))
		}
	}
	require.NotEmpty(t, f.Counts)
	return f
}

// TestAPlayingPageShowsEachStepAsItSounds: every step of the timeline is on the time that the other kinds
// give it, and points to its row in the chart, which says it.
func TestAPlayingPageShowsEachStepAsItSounds(t *testing.T) {
	timeline := timeline(t, sheetTexts(t)["lantern-night-waltz"])
	for i, o := range variants(timeline) {
		t.Run(fmt.Sprint(i), func(t *testing.T) {
			o.Before = 0
			page := playAlong(t, timeline, o)
			doc, f := parsePage(t, page), followedBy(t, page)
			figures := class(doc.all("section"), "figure")
			want := jsonSteps(t, timeline, o)
			was := [2]int{-1, 0}
			for _, c := range f.Counts {
				if now := [2]int{c.Turn, c.Step}; c.Step == 0 || now == was {
					continue
				} else {
					was = now
				}
				require.NotEmpty(t, want)
				assert.InDelta(t, want[0].seconds, c.At, 0.001)
				assert.Equal(t, want[0].said, c.Said)
				for _, tr := range figures[c.Figure-1].all("tr") {
					if tr.attr("data-step") != fmt.Sprint(c.Step) {
						continue
					}
					for q, who := range []string{"leader", "follower"} {
						if cells := class(tr.all("td"), who); o.Shown[q] {
							assert.Equal(t, want[0].steps[q], strings.Replace(cells[0].text(), "–", "stands still", 1))
						} else {
							assert.Empty(t, cells)
						}
					}
				}
				want = want[1:]
			}
			assert.Empty(t, want)
			assert.Len(t, f.Poses, int(f.Last-f.First)*f.Each+1)
		})
	}
}

// TestAPlayingPageIsOneFile, and its policy allows its own script and style only.
func TestAPlayingPageIsOneFile(t *testing.T) {
	page := playAlong(t, lantern(t), wholeRoutine())
	doc := parsePage(t, page)
	for _, attr := range []string{"http:", "https:", "//"} {
		assert.NotContains(t, string(page), `="`+attr)
	}
	assert.NotContains(t, string(page), "url(")
	assert.Regexp(t, `^default-src 'none'; media-src data: blob:; style-src 'sha256-[^']+'; script-src 'sha256-[^']+'$`, doc.all("meta")[1].attr("content"))
	assert.True(t, strings.HasPrefix(doc.one(t, "audio").attr("src"), "data:audio/flac;base64,ZkxhQ")) // fLaC
	assert.NotEmpty(t, doc.one(t, "noscript"))
	// The parts of the drawing are named for the steps of the chart.
	figure := class(doc.all("section"), "figure")[0]
	for _, tr := range figure.one(t, "tbody").all("tr") {
		assert.NotEmpty(t, class(figure.all("g"), "step-"+tr.attr("data-step")), "step %s is drawn", tr.attr("data-step"))
	}
}

// TestAPlayingPageHasABound: what no phone would hold is refused before anything is rendered.
func TestAPlayingPageHasABound(t *testing.T) {
	o := wholeRoutine()
	o.Times = handout.MostTimes
	track := handout.ClickTrack{Options: o, Sounds: player.Sounds{Kit: audio.NewKit(44100)}, Rate: 44100, Bits: 16}
	var out bytes.Buffer
	assert.ErrorContains(t, track.PlayAlong(t.Context(), &out, nil, lantern(t)), "longer than the 30 minutes that a page holds")
	assert.Empty(t, out.Bytes())
}
