package handout_test

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"
	"testing"
	"testing/synctest"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/audio/voice"
	"dance.example/slowquick/player"
	"dance.example/slowquick/player/handout"
	"dance.example/slowquick/player/handout/captions"
	"dance.example/slowquick/player/handout/smf"
	"dance.example/slowquick/player/lines"
	"dance.example/slowquick/routine"
)

// told is what a kind says about one step: when it comes, what is counted, and what each partner shown
// steps.
type told struct {
	seconds float64
	said    string
	steps   [2]string
}

// TestAllKindsSayTheSame: what the screen prints while a routine is danced is what the captions, the
// MIDI file, the JSON and the page say about each step, and when.
func TestAllKindsSayTheSame(t *testing.T) {
	for name, text := range sheetTexts(t) {
		timeline := timeline(t, text)
		for i, o := range variants(timeline) {
			o.Before = 0 // on the screen a voice takes its breath before
			for _, o.Settings.Count.Style = range []routine.CountStyle{routine.StyleUnset, routine.SlowQuick, routine.InWords} {
				t.Run(fmt.Sprintf("%s %d %s", name, i, o.Settings.Count.Style), func(t *testing.T) {
					want := shownSteps(t, timeline, o)
					require.NotEmpty(t, want)
					sameCaptions(t, want, timeline, o)
					same(t, want, midiSteps(t, timeline, o))
					same(t, want, jsonSteps(t, timeline, o))
					pageSteps(t, text, timeline, o)
				})
			}
		}
	}
}

// same compares, give or take a few milliseconds: captions are no more exact.
func same(t *testing.T, want, got []told) {
	t.Helper()
	require.Len(t, got, len(want))
	for i := range want {
		require.InDelta(t, want[i].seconds, got[i].seconds, 0.004, "step %d", i)
		require.Equal(t, want[i].said, got[i].said, "step %d", i)
		require.Equal(t, want[i].steps, got[i].steps, "step %d", i)
	}
}

// TestBeat37 is one example worked out by hand: the Lantern Night cha-cha's spot turn begins on it, at
// 28 bars a minute, after a lead-in of four beats and 36 of dancing.
func TestBeat37(t *testing.T) {
	timeline := lantern(t)
	o := wholeRoutine()
	want := told{(4 + 36) * 60.0 / 112, "2", [2]string{"RF small forward and across, 3/8 L", "LF small forward and across, 3/8 R"}}
	for kind, list := range map[string][]told{
		"screen": shownSteps(t, timeline, o), "MIDI": midiSteps(t, timeline, o), "JSON": jsonSteps(t, timeline, o),
	} {
		i := slices.IndexFunc(list, func(s told) bool { return s.seconds > want.seconds-0.01 })
		assert.InDelta(t, want.seconds, list[i].seconds, 0.004, kind)
		assert.Equal(t, want.said, list[i].said, kind)
		assert.Equal(t, want.steps, list[i].steps, kind)
	}
	// On the page: the sixth item of the order, in bar 10, and the first row of its chart.
	doc := parsePage(t, page(t, sheetTexts(t)["lantern-night-cha-cha"], o))
	assert.Contains(t, doc.text(), " 6 Spot turn to the left let go, then find the hand again 10–11 0:19 ")
	assert.Contains(t, doc.text(), "Chart of Spot turn to the left Step Count Leader Follower 1 2 RF small forward and across, 3/8 L LF small forward and across, 3/8 R 2 3 ")
}

// TestAPartHasOneName in all kinds that name the figures.
func TestAPartHasOneName(t *testing.T) {
	timeline := timeline(t, "---\ndance: waltz\n---\n## Order\n\n1. Natural turn, steps 1–3\n2. Natural turn, step 4\n3. Natural turn, steps 5–6\n")
	o := wholeRoutine()
	o.Settings.LeadIn = 0
	want := []string{"Natural turn, steps 1–3", "Natural turn, step 4", "Natural turn, steps 5–6"}
	var out bytes.Buffer
	require.NoError(t, handout.JSON(&out, timeline, o))
	var doc struct{ Figures []struct{ Name string } }
	require.NoError(t, json.Unmarshal(out.Bytes(), &doc))
	var named, chapters []string
	for _, f := range doc.Figures {
		named = append(named, f.Name)
	}
	for _, c := range vtt(t, captions.Figures, timeline, o) {
		chapters = append(chapters, c.text)
	}
	assert.Equal(t, want, named)
	assert.Equal(t, want, chapters)
	assert.Equal(t, want, texts(midiOf(t, timeline, o).tracks[0], smf.Marker))
}

// TestAllKindsBeginWithTheTrack, in which a voice may take a breath or name a figure before anything is
// counted: each of its clicks is at the time that all kinds give.
func TestAllKindsBeginWithTheTrack(t *testing.T) {
	timeline := lantern(t)
	kit := audio.NewKit(48000)
	name := make(audio.Sound, 30000) // too long for a breath
	sounds := map[string]player.Sounds{
		"clicks": {Kit: kit},
		"aloud":  {Kit: kit, Voice: voice.New(48000)},
		"named":  {Kit: kit, Calls: player.Calls{"Closed basic": name}},
		"both":   {Kit: kit, Voice: voice.New(48000), Calls: player.Calls{"Closed basic": name}},
	}
	for heard, s := range sounds {
		for i, o := range variants(timeline) {
			o.Settings.Call = s.Calls != nil
			t.Run(fmt.Sprint(heard, " ", i), func(t *testing.T) {
				track := handout.ClickTrack{Options: o, Sounds: s, Levels: audio.Levels{player.ClickLayer: 1}, Rate: 48000, Bits: 16}
				o.Before = track.Before(timeline)
				if heard == "aloud" {
					assert.Equal(t, 0.16, o.Before)
				}
				if heard == "named" && o.Settings.LeadIn > 0 {
					assert.Greater(t, o.Before, 30000.0/48000)
				}
				var out bytes.Buffer
				require.NoError(t, track.WAV(&out, timeline))
				var clicks []float64
				for _, frame := range onsets(t, out.Bytes(), 48000) {
					clicks = append(clicks, float64(frame)/48000)
				}
				require.InDelta(t, o.Before, clicks[0], 2e-4)

				file := midiOf(t, timeline, o)
				var struck []float64
				for _, e := range file.track(t, "Click") {
					if !e.meta && e.status == 0x99 {
						struck = append(struck, file.seconds(e.tick))
					}
				}
				for _, times := range [][]float64{struck, jsonClicks(t, timeline, o)} {
					require.Len(t, times, len(clicks))
					assert.InDeltaSlice(t, clicks, times, 1e-3)
				}
				assert.InDelta(t, clicks[0], vtt(t, captions.Counts, timeline, o)[0].from, 1e-3)
				assert.InDelta(t, clicks[0], srt(t, captions.Figures, timeline, o)[0].from, 1e-3)
			})
		}
	}
}

// jsonClicks returns the times of the beats, and of the counts between, by a timeline's JSON; those in
// a rest follow from when the next run-through begins.
func jsonClicks(t *testing.T, timeline *player.Timeline, o handout.Options) (list []float64) {
	t.Helper()
	var out bytes.Buffer
	require.NoError(t, handout.JSON(&out, timeline, o))
	var doc struct {
		LeadIn         []struct{ Seconds float64 }
		Passes         []struct{ Seconds, Percent float64 }
		Events         []struct{ Seconds float64 }
		BeatsPerMinute float64
	}
	require.NoError(t, json.Unmarshal(out.Bytes(), &doc))
	for _, beat := range doc.LeadIn {
		list = append(list, beat.Seconds)
	}
	for k, pass := range doc.Passes {
		slower := doc.Passes[0].Percent / pass.Percent
		if k > 0 && o.Settings.Rest > 0 {
			beat := 60 / doc.BeatsPerMinute * slower
			for n := o.Settings.Rest * timeline.Score.Dance.Metre.Beats; n > 0; n-- {
				list = append(list, pass.Seconds-float64(n)*beat)
			}
		}
		for _, e := range doc.Events {
			list = append(list, pass.Seconds+e.Seconds*slower)
		}
	}
	return list
}

// silentLine is a sound device without a delay, with a clock of its own.
type silentLine struct{ start time.Time }

const lineRate = 48000

func (l silentLine) Heard(at time.Time) float64 { return at.Sub(l.start).Seconds() * lineRate }
func (l silentLine) Change(f func(frame int64)) { f(int64(l.Heard(time.Now()))) }

type silentEngine struct{}

func (silentEngine) Play(audio.Schedule)                {}
func (silentEngine) Accompany(audio.Track, audio.Layer) {}
func (silentEngine) SetLevels(int64, audio.Levels)      {}
func (silentEngine) Levels() (levels audio.Levels)      { return levels }

// stamped keeps what is written, and when.
type stamped struct {
	start time.Time
	lines []string
	at    []float64
}

func (s *stamped) Write(p []byte) (int, error) {
	s.lines, s.at = append(s.lines, strings.TrimSuffix(string(p), "\n")), append(s.at, time.Since(s.start).Seconds())
	return len(p), nil
}

var printed = regexp.MustCompile(`bar \d+, count ([^:]*)(?:: (.*))?$`)

// TestTheLeadInIsCountedTheSame on the screen and in the captions.
func TestTheLeadInIsCountedTheSame(t *testing.T) {
	for name, timeline := range routines(t) {
		o := wholeRoutine()
		o.Settings.LeadIn, o.Settings.Count.Style = 2, routine.AsCounted
		out := printedLines(t, timeline, o)
		cues := vtt(t, captions.Counts, timeline, o)
		beats := 0
		for i, text := range out.lines {
			if number, ok := strings.CutPrefix(text, "lead-in "); ok {
				assert.Equal(t, cues[beats].text, number, name)
				assert.InDelta(t, cues[beats].from, out.at[i], 0.004, name)
				beats++
			}
		}
		assert.GreaterOrEqual(t, beats, 4, name)
	}
}

// shownSteps is what the plain lines say in time.
func shownSteps(t *testing.T, timeline *player.Timeline, o handout.Options) (list []told) {
	out := printedLines(t, timeline, o)
	for i, text := range out.lines {
		m := printed.FindStringSubmatch(text)
		if m == nil {
			require.Contains(t, text, "lead-in")
			continue
		}
		s := told{seconds: out.at[i], said: m[1]}
		for _, part := range strings.Split(m[2], "; ") {
			who, step, _ := strings.Cut(part, " ")
			for _, p := range routine.Partners() {
				if who == p.String() {
					s.steps[p] = step
				}
			}
		}
		list = append(list, s)
	}
	return list
}

// printedLines are the plain lines, and when they are printed.
func printedLines(t *testing.T, timeline *player.Timeline, o handout.Options) (out stamped) {
	synctest.Test(t, func(t *testing.T) {
		set := o.Settings
		part := o.Part
		if part.Empty() {
			part = player.Interval{From: timeline.Start, To: timeline.End}
		}
		set.Loop = part // over and over, as a screen does
		device := silentLine{time.Now()}
		out.start = device.start
		course := player.NewCourse(lineRate, player.Sounds{}, timeline, set)
		once := course.Through(0, timeline, part, o.Times, set)
		transport := player.NewTransport(device, silentEngine{}, course.Start(0, timeline, part.From, set), nil)
		ctx, cancel := context.WithTimeout(t.Context(), time.Duration(once.End()/lineRate*float64(time.Second))-5*time.Millisecond)
		defer cancel()
		dancers := routine.Both
		switch o.Shown {
		case [2]bool{true, false}:
			dancers = routine.LeaderAlone
		case [2]bool{false, true}:
			dancers = routine.FollowerAlone
		}
		require.NoError(t, lines.Write(ctx, &out, transport, lines.Options{Dancers: dancers, Count: set.Count}))
		transport.Close()
	})
	return out
}

// sameCaptions compares the captions of the counts, and of each partner's steps: one for each half bar in
// which there is a step, from the first of them on, which names them in turn.
func sameCaptions(t *testing.T, want []told, timeline *player.Timeline, o handout.Options) {
	t.Helper()
	counts := vtt(t, captions.Counts, timeline, o)
	for _, s := range want {
		i := slices.IndexFunc(counts, func(c caption) bool { return math.Abs(c.from-s.seconds) < 0.004 })
		if s.said != "" {
			require.GreaterOrEqual(t, i, 0)
			require.Equal(t, s.said, counts[i].text)
		}
	}
	all := vtt(t, captions.Steps, timeline, o)
	long := strings.NewReplacer("fwd", "forward", "diag ", "diagonally ")
	for _, p := range routine.Partners() {
		if !o.Shown[p] {
			continue
		}
		place := [2]string{"left", "right"}[p]
		if o.Shown != [2]bool{true, true} {
			place = ""
		}
		var own []told
		for _, s := range want {
			if s.steps[p] != "" {
				own = append(own, s)
			}
		}
		for _, c := range at(place, all) {
			if c.text == "Leader" || c.text == "Follower" {
				continue
			}
			require.NotEmpty(t, own)
			require.InDelta(t, own[0].seconds, c.from, 0.004)
			text, cut := strings.CutSuffix(c.text, " …")
			for n := 0; len(own) > 0 && own[0].seconds < c.to-0.002; n++ {
				words, feet := strings.Split(text, " · "), true
				if len(words) == 1 && !strings.HasPrefix(text, "LF") && !strings.HasPrefix(text, "RF") {
					feet = false
				}
				if feet && !cut {
					require.Greater(t, len(words), n, "%q names %v", c.text, own[0])
					for _, word := range strings.Fields(long.Replace(words[n])) {
						require.Contains(t, own[0].steps[p], strings.Trim(word, ","))
					}
				}
				own = own[1:]
			}
		}
		require.Empty(t, own)
	}
}

// midiSteps reads lyrics and texts, at the file's tempi.
func midiSteps(t *testing.T, timeline *player.Timeline, o handout.Options) (list []told) {
	file := midiOf(t, timeline, o)
	at := map[int64]*told{}
	var ticks []int64
	for _, p := range routine.Partners() {
		if !o.Shown[p] {
			continue
		}
		for _, e := range marks(file.track(t, strings.ToUpper(p.String()[:1])+p.String()[1:]), smf.Text) {
			if at[e.tick] == nil {
				at[e.tick] = &told{seconds: file.seconds(e.tick)}
				ticks = append(ticks, e.tick)
			}
			at[e.tick].steps[p] = string(e.data)
		}
	}
	for _, e := range marks(file.track(t, "Count"), smf.Lyric) {
		if s := at[e.tick]; s != nil {
			s.said = string(e.data)
		}
	}
	slices.Sort(ticks)
	for _, tick := range ticks {
		list = append(list, *at[tick])
	}
	return list
}

// jsonSteps reads the timeline, and lays out its run-throughs as its schema says.
func jsonSteps(t *testing.T, timeline *player.Timeline, o handout.Options) (list []told) {
	var out bytes.Buffer
	require.NoError(t, handout.JSON(&out, timeline, o))
	var doc struct {
		Passes []struct{ Seconds, Percent float64 }
		Events []struct {
			Seconds          float64
			Step             int
			Said             string
			Leader, Follower string
		}
	}
	require.NoError(t, json.Unmarshal(out.Bytes(), &doc))
	for _, pass := range doc.Passes {
		for _, e := range doc.Events {
			if e.Leader == "" && e.Follower == "" {
				continue
			}
			s := told{seconds: pass.Seconds + e.Seconds*doc.Passes[0].Percent/pass.Percent, said: e.Said, steps: [2]string{e.Leader, e.Follower}}
			for p := range s.steps {
				s.steps[p] = strings.Replace(s.steps[p], "–", "stands still", 1)
			}
			list = append(list, s)
		}
	}
	return list
}

// pageSteps follows the page as a reader does: from the order to the figure, and down its chart; what
// is there must be what the timeline says about each step.
func pageSteps(t *testing.T, text string, timeline *player.Timeline, o handout.Options) {
	t.Helper()
	doc := parsePage(t, page(t, text, o))
	part := o.Part
	if part.Empty() {
		part = player.Interval{From: timeline.Start, To: timeline.End}
	}
	order := map[string]node{} // by number
	for _, tr := range class(doc.all("section"), "order")[0].one(t, "tbody").all("tr") {
		order[tr.all("td")[0].text()] = tr
	}
	figures := map[string]node{}
	for _, f := range class(doc.all("section"), "figure") {
		figures[f.one(t, "h3").attr("id")] = f
	}
	partners := []routine.Partner{}
	for _, p := range routine.Partners() {
		if o.Shown[p] {
			partners = append(partners, p)
		}
	}
	for i := range timeline.Events {
		e := &timeline.Events[i]
		if e.Row < 0 || !part.Contains(e.At) {
			continue
		}
		passage := &timeline.Score.Passages[e.Passage]
		item, ok := order[fmt.Sprint(passage.Item+1)]
		require.True(t, ok, "item %d", passage.Item+1)
		figure, ok := figures[strings.TrimPrefix(item.one(t, "a").attr("href"), "#")]
		require.True(t, ok)
		assert.Contains(t, figure.one(t, "h3").text(), passage.Figure.Name)
		chart := class(figure.all("table"), "chart")[0]
		var heads []string
		for _, th := range chart.one(t, "thead").all("th") {
			heads = append(heads, th.text())
		}
		for _, tr := range chart.one(t, "tbody").all("tr") {
			cells := map[string]string{}
			for c, cell := range slices.Collect(tr.ChildNodes()) {
				cells[heads[c]] = node{cell}.text()
			}
			if cells["Step"] != fmt.Sprint(e.Row+1) {
				continue
			}
			rowSays(t, cells, e, &passage.Figure.Rows[e.Row], partners)
			if said, ok := cells["Said"]; ok && passage.To-passage.From == len(passage.Figure.Rows) {
				assert.Equal(t, e.Labels.In(timeline.Style(i, o.Settings.Count)), said)
			}
			e = nil
			break
		}
		require.Nil(t, e, "the chart has the row")
	}
}

// rowSays compares a row of a chart with an event.
func rowSays(t *testing.T, cells map[string]string, e *player.Event, row *routine.Row, partners []routine.Partner) {
	t.Helper()
	assert.Equal(t, row.Count.String(), cells["Count"])
	for _, p := range partners {
		who := strings.ToUpper(p.String()[:1]) + p.String()[1:]
		s := e.Steps[p]
		if s == nil {
			assert.Empty(t, cells[who])
			continue
		}
		said := strings.Split(cells[who], ", ")
		placed := *s // the position has a column of its own
		placed.Position = 0
		assert.ElementsMatch(t, strings.Split(placed.String(), ", "), said)
		if s.Position != 0 {
			for position := range s.Position.Positions() {
				assert.Contains(t, cells["Position"], position.String())
			}
		}
	}
}
