package handout_test

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/player"
	"dance.example/slowquick/player/handout"
	"dance.example/slowquick/player/handout/midi"
	"dance.example/slowquick/player/handout/smf"
	"dance.example/slowquick/routine"
)

// midiEvent is an event of a MIDI file as parsed: a meta event has its kind and data, any other its
// status and bytes.
type midiEvent struct {
	tick   int64
	meta   bool
	status byte
	data   []byte
}

type midiFile struct {
	format, division int
	tracks           [][]midiEvent
}

// readMIDI parses a file by the standard's layout (RP-001), and fails the test for anything that
// violates it.
func readMIDI(t testing.TB, file []byte) midiFile {
	t.Helper()
	require.Equal(t, "MThd\x00\x00\x00\x06", string(file[:8]))
	out := midiFile{format: int(binary.BigEndian.Uint16(file[8:])), division: int(binary.BigEndian.Uint16(file[12:]))}
	tracks := int(binary.BigEndian.Uint16(file[10:]))
	for file = file[14:]; len(file) > 0; {
		require.Equal(t, "MTrk", string(file[:4]))
		size := binary.BigEndian.Uint32(file[4:])
		body := file[8 : 8+size]
		file = file[8+size:]
		var events []midiEvent
		tick := int64(0)
		number := func() (n int64) {
			for {
				b := body[0]
				body = body[1:]
				if n = n<<7 | int64(b&0x7f); b < 0x80 {
					return n
				}
			}
		}
		for len(body) > 0 {
			tick += number()
			e := midiEvent{tick: tick, status: body[0]}
			if body = body[1:]; e.status == 0xff {
				e.meta, e.status = true, body[0]
				body = body[1:]
				size := number()
				e.data, body = body[:size], body[size:]
			} else {
				e.data, body = body[:2], body[2:]
			}
			events = append(events, e)
		}
		last := events[len(events)-1]
		require.True(t, last.meta && last.status == 0x2f && len(last.data) == 0, "a track ends with its end")
		out.tracks = append(out.tracks, events)
	}
	require.Len(t, out.tracks, tracks)
	return out
}

// track returns the track of a name.
func (f midiFile) track(t testing.TB, name string) []midiEvent {
	t.Helper()
	for _, events := range f.tracks[1:] {
		if texts := texts(events, smf.Name); slices.Equal(texts, []string{name}) {
			return events
		}
	}
	require.FailNow(t, "no track", name)
	return nil
}

func texts(events []midiEvent, kind smf.Kind) (list []string) {
	for _, e := range events {
		if e.meta && e.status == byte(kind) {
			list = append(list, string(e.data))
		}
	}
	return list
}

// seconds returns when a tick falls by the tempi of the first track.
func (f midiFile) seconds(tick int64) float64 {
	at, micros, seconds := int64(0), 500000.0, 0.0 // the default is 120 a minute
	for _, e := range f.tracks[0] {
		if e.meta && e.status == 0x51 && e.tick <= tick {
			seconds += float64(e.tick-at) * micros / 1e6 / float64(f.division)
			at, micros = e.tick, float64(uint32(e.data[0])<<16|uint32(e.data[1])<<8|uint32(e.data[2]))
		}
	}
	return seconds + float64(tick-at)*micros/1e6/float64(f.division)
}

func midiOf(t testing.TB, timeline *player.Timeline, o handout.Options) midiFile {
	t.Helper()
	var out bytes.Buffer
	require.NoError(t, midi.Write(&out, timeline, o))
	return readMIDI(t, out.Bytes())
}

// simple returns a routine of a dance at a tempo, with one step a beat.
func simple(t testing.TB, dance, tempo string) *player.Timeline {
	t.Helper()
	d, ok := shipped.Dance(dance)
	require.True(t, ok)
	rows := ""
	for i := range 2 * d.Metre.Beats {
		feet := [2]string{"LF", "RF"}
		rows += fmt.Sprintf("| %d | %s forward | %s back |\n", i%d.Metre.Beats+1, feet[i%2], feet[1-i%2])
	}
	return timeline(t, "---\ndance: "+dance+"\ntempo: "+tempo+"\n---\n## Order\n\n1. Jetty walk × 3\n\n## Jetty walk\n\n| Count | Leader | Follower |\n|---|---|---|\n"+rows)
}

// TestTempoBytes: microseconds a quarter note of the usual tempi, 60 000 000 / beats a
// minute, rounded half up. Source of the layout: MIDI Manufacturers Association,
// Standard MIDI Files 1.0 (RP-001), Set Tempo, FF 51 03 tttttt; the values are computed.
func TestTempoBytes(t *testing.T) {
	for _, c := range []struct {
		dance, tempo string
		bytes        []byte
	}{
		{"foxtrot", "30 bars/min", []byte{0x07, 0xa1, 0x20}},
		{"paso doble", "60 bars/min", []byte{0x07, 0xa1, 0x20}},
		{"waltz", "30 bars/min", []byte{0x0a, 0x2c, 0x2b}},
		{"waltz", "29 bars/min", []byte{0x0a, 0x85, 0xf7}},
		{"viennese waltz", "60 bars/min", []byte{0x05, 0x16, 0x15}},
		{"quickstep", "50 bars/min", []byte{0x04, 0x93, 0xe0}},
		{"tango", "128 beats/min", []byte{0x07, 0x27, 0x0e}},
		{"cha-cha", "31 bars/min", []byte{0x07, 0x62, 0x1f}},
		{"rumba", "26 bars/min", []byte{0x08, 0xcd, 0x9b}},
		{"samba", "51 bars/min", []byte{0x08, 0xf9, 0xcb}},
		{"jive", "43 bars/min", []byte{0x05, 0x52, 0xa5}},
	} {
		file := midiOf(t, simple(t, c.dance, c.tempo), wholeRoutine())
		var tempi [][]byte
		for _, e := range file.tracks[0] {
			if e.meta && e.status == 0x51 {
				tempi = append(tempi, e.data)
			}
		}
		assert.Equal(t, [][]byte{c.bytes}, tempi, c.dance)
	}
}

// TestMIDIIsTheTimeline compares a file, parsed by the standard, with the timeline.
func TestMIDIIsTheTimeline(t *testing.T) {
	for name, timeline := range routines(t) {
		o := wholeRoutine()
		file := midiOf(t, timeline, o)
		assert.Equal(t, 1, file.format, name)
		assert.Equal(t, 960, file.division, name)
		assert.Equal(t, []string{timeline.Score.Title}, texts(file.tracks[0], smf.Name), name)

		var figures []string
		for _, p := range timeline.Score.Passages {
			name := p.Figure.Name
			if p.To-p.From < len(p.Figure.Rows) {
				name += fmt.Sprintf(", steps 1–%d", p.To)
			}
			figures = append(figures, name)
		}
		assert.Equal(t, figures, texts(file.tracks[0], smf.Marker), name)

		lead := leadIn(timeline)
		at := func(b routine.Beats) float64 { return lead + timeline.Seconds(b) }
		for i, e := range marks(file.tracks[0], smf.Marker) {
			assert.InDelta(t, at(timeline.Score.Passages[i].Start), file.seconds(e.tick), 1e-4, "%s, figure %d", name, i)
		}
		for _, p := range routine.Partners() {
			events := marks(file.track(t, strings.ToUpper(p.String()[:1])+p.String()[1:]), smf.Text)
			for i := range timeline.Events {
				step := timeline.Events[i].Steps[p]
				if step == nil {
					continue
				}
				require.NotEmpty(t, events)
				assert.Equal(t, strings.Replace(step.String(), "–", "stands still", 1), string(events[0].data))
				assert.InDelta(t, at(timeline.Events[i].At), file.seconds(events[0].tick), 1e-4)
				events = events[1:]
			}
			assert.Empty(t, events)
		}
		var clicks []midiEvent
		for _, e := range file.track(t, "Click") {
			if !e.meta && e.status == 0x99 { // note on, channel 10
				clicks = append(clicks, e)
			}
		}
		clicks = clicks[len(clicks)-len(timeline.Events):] // those before are the lead-in's
		for i, e := range timeline.Events {
			want := byte(77) // General MIDI: low wood block
			switch {
			case e.Split:
				want = 69
			case e.Beat == 1:
				want = 76
			}
			assert.Equal(t, want, clicks[i].data[0], "%s, event %d", name, i)
		}
		end := file.tracks[0][len(file.tracks[0])-1].tick
		assert.InDelta(t, at(timeline.End), file.seconds(end), 1e-4, name)
	}
}

func marks(events []midiEvent, kind smf.Kind) (list []midiEvent) {
	for _, e := range events {
		if e.meta && e.status == byte(kind) {
			list = append(list, e)
		}
	}
	return list
}

// leadIn returns how long, in seconds, the whole beats of a bar of lead-in take.
func leadIn(timeline *player.Timeline) float64 {
	bar := timeline.Score.Dance.Metre.Bar()
	first := timeline.Start - bar
	if over := (first%routine.Beat + routine.Beat) % routine.Beat; over > 0 {
		first += routine.Beat - over
	}
	return (timeline.Start - first).Float() * 60 / timeline.Tempo(timeline.Start).Float()
}

// TestBarsAreTheDancesBars: a short bar comes before a routine that begins within a bar, so that a music
// program's bar lines are the dance's.
func TestBarsAreTheDancesBars(t *testing.T) {
	o := wholeRoutine()
	o.Times, o.Settings.Rest = 3, 1
	for name, timeline := range routines(t) {
		for i, part := range []player.Interval{{}, timeline.Passage(0), timeline.Passage(1)} {
			o.Part, o.Before = part, 0.16*float64(i)
			file := midiOf(t, timeline, o)
			var bars []int64 // where bar lines are
			at, length := int64(0), int64(0)
			for _, e := range file.tracks[0] {
				if e.meta && e.status == 0x58 {
					for at < e.tick {
						bars = append(bars, at)
						at += length
					}
					require.Equal(t, e.tick, at, "%s: the metre changes within a bar", name)
					length = int64(e.data[0]) * 4 * 960 >> e.data[1]
				}
			}
			end := file.tracks[0][len(file.tracks[0])-1].tick
			for ; at <= end; at += length {
				bars = append(bars, at)
			}
			for _, e := range file.track(t, "Click") {
				if !e.meta && e.status == 0x99 && e.data[0] == 76 {
					assert.Contains(t, bars, e.tick, name)
				}
			}
		}
	}
}

// TestRhythmHasKeysThatAllKnow: every sound of a rhythm has a key in General MIDI Level 1's percussion,
// 35–81 (MIDI Manufacturers Association, RP-003).
func TestRhythmHasKeysThatAllKnow(t *testing.T) {
	timeline := lantern(t)
	timeline.Score.Rhythm = routine.Rhythm{Bars: 1}
	names := routine.Instruments()
	require.NotEmpty(t, names)
	for _, name := range names {
		timeline.Score.Rhythm.Strokes = []routine.Stroke{{Instrument: name}}
		notes := 0
		for _, e := range midiOf(t, timeline, wholeRoutine()).track(t, "Rhythm") {
			if !e.meta && e.status == 0x99 {
				notes++
				assert.True(t, e.data[0] >= 35 && e.data[0] <= 81, "%s has key %d", name, e.data[0])
				assert.True(t, e.data[1] >= 1 && e.data[1] <= 127)
			}
		}
		assert.Positive(t, notes, name)
	}
}

// TestARampHasStepsOfABeat: while the tempo grows, it is set at least once a beat.
func TestARampHasStepsOfABeat(t *testing.T) {
	timeline := lantern(t)
	last := timeline.Score.Passages[len(timeline.Score.Passages)-1]
	require.NotEqual(t, timeline.Tempo(last.Start), timeline.Tempo(last.End-1), "the last figure grows")
	file := midiOf(t, timeline, wholeRoutine())
	before := int64(-1)
	steps := 0
	lead := 4 * int64(routine.Beat)
	shift := lead - int64(timeline.Start)
	for _, e := range file.tracks[0] {
		if e.meta && e.status == 0x51 && e.tick >= int64(last.Start)+shift {
			if before >= 0 {
				assert.LessOrEqual(t, e.tick-before, int64(routine.Beat))
			}
			before = e.tick
			steps++
		}
	}
	assert.GreaterOrEqual(t, steps, 8)
	assert.False(t, math.IsNaN(file.seconds(before)))
}

func TestWhatNoMIDIFileHolds(t *testing.T) {
	timeline := simple(t, "waltz", "10 beats/min")
	o := wholeRoutine()
	o.Settings.Percent = 20
	err := midi.Write(&bytes.Buffer{}, timeline, o)
	assert.ErrorContains(t, err, "write midi: a beat of 30.0 seconds is longer than a MIDI file can hold")
}
