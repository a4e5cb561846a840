//go:build outside

package handout_test

import (
	"context"
	"encoding/json"
	"fmt"
	"maps"
	"math"
	"net/http"
	"net/http/httptest"
	"os/exec"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/player"
)

// watchingPage plays the page in a frame, first at half tempo, then at the whole, and notes for each
// picture that the browser draws where the track is and which step is lit.
const watchingPage = `<!doctype html><iframe id="frame" src="/page.html" width="390" height="844"></iframe><script>
const frame = document.getElementById("frame");
frame.onload = async () => {
	const page = frame.contentDocument, $ = id => page.getElementById(id), track = $("track"), runs = [];
	let seen = [];
	const look = () => { // after the page's own script, which asked for this picture before
		if (!track.paused) frame.contentWindow.requestAnimationFrame(look);
		const row = page.querySelector("tr.lit");
		if (row && !track.paused) seen.push({at: track.currentTime, figure: Number(row.closest("section").id.slice("figure-".length)), step: Number(row.dataset.step),
			drawn: row.closest("section").querySelectorAll(".drawing .lit").length, foot: $("leader-left").getAttribute("transform")});
	};
	track.addEventListener("play", () => frame.contentWindow.requestAnimationFrame(look));
	for (const half of [true, false]) {
		seen = [];
		if (half !== ($("half").getAttribute("aria-pressed") === "true")) $("half").click();
		track.currentTime = 0;
		const over = new Promise(done => track.addEventListener("ended", done, {once: true}));
		$("play").click();
		await over;
		runs.push({rate: track.playbackRate, pitch: track.preservesPitch, seen});
	}
	$("partner").click();
	const fetched = frame.contentWindow.performance.getEntriesByType("resource").map(e => e.name).filter(name => name.startsWith("http"));
	fetch("/result", {method: "POST", body: JSON.stringify({runs, fetched, said: $("spoken").textContent,
		hidden: getComputedStyle(page.querySelector("td.follower")).display, wide: page.documentElement.scrollWidth - 390})});
};
</script>`

// around returns the steps that are danced within 30 ms of a time.
func around(f followed, at float64) (list [][2]int) {
	for i, c := range f.Counts {
		if c.At <= at+0.03 && (i+1 == len(f.Counts) || f.Counts[i+1].At >= at-0.03) {
			list = append(list, [2]int{c.Figure, c.Step})
		}
	}
	return list
}

// TestAPlayingPageLightsEachStepOnItsClick: whatever a browser draws has the step lit whose click was heard
// last, give or take 30 ms by the clock of the track, at half and whole tempo; nothing is fetched.
func TestAPlayingPageLightsEachStepOnItsClick(t *testing.T) {
	line := lantern(t)
	o := wholeRoutine()
	o.Part = player.Interval{From: line.Passage(1).From, To: line.Passage(2).To}
	page := playAlong(t, line, o)
	results := make(chan []byte, 1)
	var mu sync.Mutex
	asked := map[string]int{}
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		mu.Lock()
		asked[r.URL.Path]++
		mu.Unlock()
		switch r.URL.Path {
		case "/":
			fmt.Fprint(w, watchingPage)
		case "/page.html":
			_, _ = w.Write(page)
		case "/result":
			var raw json.RawMessage
			if json.NewDecoder(r.Body).Decode(&raw) == nil {
				results <- raw
			}
		}
	}))
	defer server.Close()
	ctx, cancel := context.WithTimeout(t.Context(), 2*time.Minute)
	defer cancel()
	browser := exec.CommandContext(ctx, "chromium", "--headless", "--no-sandbox", "--disable-gpu", "--mute-audio", "--autoplay-policy=no-user-gesture-required",
		"--remote-debugging-port=0", "--user-data-dir="+t.TempDir(), "--window-size=500,1000", server.URL)
	require.NoError(t, browser.Start())
	defer func() {
		_ = browser.Process.Kill()
		_ = browser.Wait() // it was killed
	}()
	var seen struct {
		Runs []struct {
			Rate  float64
			Pitch bool
			Seen  []struct {
				At           float64
				Figure, Step int
				Drawn        int
				Foot         string
			}
		}
		Fetched      []string
		Said, Hidden string
		Wide         int
	}
	select {
	case raw := <-results:
		require.NoError(t, json.Unmarshal(raw, &seen))
	case <-ctx.Done():
		require.FailNow(t, "the browser says nothing")
	}
	f := followedBy(t, page)
	require.Len(t, seen.Runs, 2)
	for i, run := range seen.Runs {
		assert.Equal(t, []float64{0.5, 1}[i], run.Rate)
		assert.True(t, run.Pitch)
		late, places, lit := map[[2]int]float64{}, map[string]bool{}, map[[2]int]bool{}
		for _, got := range run.Seen {
			is := [2]int{got.Figure, got.Step}
			assert.Contains(t, around(f, got.At), is, "at %.3f s", got.At)
			assert.Positive(t, got.Drawn, "step %v is lit in the drawing", is)
			places[got.Foot], lit[is] = true, true
			for _, c := range f.Counts {
				if [2]int{c.Figure, c.Step} == is && math.Abs(c.At-got.At) < 0.2 {
					if _, found := late[is]; !found {
						late[is] = got.At - c.At
					}
				}
			}
		}
		for _, c := range f.Counts {
			assert.True(t, c.Step == 0 || lit[[2]int{c.Figure, c.Step}], "%+v", c)
		}
		assert.Greater(t, len(places), 4, "the feet move")
		t.Logf("tempo %v, %d pictures: %.3f", run.Rate, len(run.Seen), slices.Sorted(maps.Values(late)))
	}
	assert.Empty(t, seen.Fetched)
	delete(asked, "/favicon.ico")
	assert.Equal(t, map[string]int{"/": 1, "/page.html": 1, "/result": 1}, asked)
	assert.NotEmpty(t, strings.TrimSpace(seen.Said))
	assert.Equal(t, "none", seen.Hidden, "the leader's steps alone")
	assert.LessOrEqual(t, seen.Wide, 0, "it fits a phone")
}
