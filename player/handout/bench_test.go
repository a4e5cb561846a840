package handout_test

import (
	"fmt"
	"io"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"dance.example/slowquick/player/handout"
	"dance.example/slowquick/player/handout/captions"
	"dance.example/slowquick/player/handout/midi"
)

// long returns a routine of 64 figures of ten steps, which are one figure under 64 names.
func long(t testing.TB) handout.Sheet {
	text := sheetTexts(t)["lantern-night-cha-cha"]
	figure := text[strings.Index(text, "## Boathouse step"):]
	figure = regexp.MustCompile(`(?m)^- also called:.*\n`).ReplaceAllString(figure, "")
	var order, figures strings.Builder
	for i := range 64 {
		name := fmt.Sprintf("Boathouse step number %d", i+1)
		fmt.Fprintf(&order, "%d. %s\n", i+1, name)
		figures.WriteString(strings.Replace(figure, "Boathouse step", name, 1) + "\n")
	}
	sheet := "---\ndance: cha-cha\ntitle: A long lantern night\n---\n\n## Order\n\n" + order.String() + "\n" + figures.String()
	timeline := timeline(t, sheet)
	require.Len(t, timeline.Score.Passages, 64)
	return handout.Sheet{Text: []byte(sheet), Line: timeline, Options: wholeRoutine()}
}

// The targets: a handout of 64 figures under 200 ms, MIDI and captions under 50.
func BenchmarkHandoutOf64Figures(b *testing.B) {
	s := long(b)
	for b.Loop() {
		require.NoError(b, handout.HTML(io.Discard, "", s))
	}
}

func BenchmarkMIDIOf64Figures(b *testing.B) {
	s := long(b)
	for b.Loop() {
		require.NoError(b, midi.Write(io.Discard, s.Line, s.Options))
	}
}

func BenchmarkCaptionsOf64Figures(b *testing.B) {
	s := long(b)
	for b.Loop() {
		require.NoError(b, captions.Steps.WebVTT(io.Discard, s.Line, s.Options))
	}
}

// BenchmarkFLAC reports how many times faster than it plays a track is packed.
func BenchmarkFLAC(b *testing.B) {
	timeline := lantern(b)
	track := handout.ClickTrack{Options: wholeRoutine(), Sounds: everything(), Levels: [8]float32{1, 1, 1, 1, 1}, Rate: 48000, Bits: 16}
	track.Part = timeline.Passage(0)
	var seconds float64
	for b.Loop() {
		require.NoError(b, track.FLAC(io.Discard, timeline))
		seconds += timeline.Seconds(timeline.Passage(0).To)
	}
	b.ReportMetric(seconds/b.Elapsed().Seconds(), "x-realtime")
}
