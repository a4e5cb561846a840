package practice_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"dance.example/slowquick/player"
	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/routine"
)

// spell is some beats at a tempo, in per cent.
type spell struct {
	beats   int
	percent float64
}

// through dances a timeline from its start through spells, one after the other, to the end of the last.
// The log is fed four times a beat.
func through(t require.TestingT, timeline *player.Timeline, spells ...spell) practice.Kept {
	log, at, beat := practice.Log{}, evening(0), timeline.Start
	moment := func(percent float64) player.Moment {
		return player.Moment{State: player.Dancing, Timeline: timeline, Beat: beat, Event: timeline.At(beat), Percent: percent,
			Tempo: timeline.Tempo(beat).Scaled(percent), Settings: player.DefaultSettings()}
	}
	for _, s := range spells {
		for range 4 * s.beats {
			require.Nil(t, log.Follow(moment(s.percent), at, routine.Both))
			beat += routine.Beat / 4
			at = at.Add(time.Duration(15 / moment(s.percent).Tempo.Float() * float64(time.Second)))
		}
	}
	over := log.Stop(at)
	require.NotNil(t, over)
	return over.Kept()
}

// TestARunThroughIsKeptAtTheSlowestTempo at which a bar of it was danced.
func TestARunThroughIsKeptAtTheSlowestTempo(t *testing.T) {
	timeline := read(t, boathouse) // eight bars of four beats
	for name, tt := range map[string]struct {
		spells []spell
		want   float64
	}{
		"one tempo":               {[]spell{{32, 100}}, 100},
		"slowed at once":          {[]spell{{1, 100}, {31, 50}}, 50},
		"slowed for the last bar": {[]spell{{28, 100}, {4, 60}}, 60},
		"slowed on the way":       {[]spell{{8, 100}, {8, 70}, {16, 100}}, 70},
		"faster on the way":       {[]spell{{8, 80}, {24, 120}}, 80},
		"slower for a beat":       {[]spell{{8, 100}, {1, 50}, {23, 100}}, 100},
		"slower beat by beat":     {[]spell{{28, 100}, {1, 90}, {1, 80}, {1, 70}, {1, 60}}, 90},
		"slower twice":            {[]spell{{8, 100}, {2, 50}, {8, 100}, {2, 50}, {12, 100}}, 50},
		"less than a bar":         {[]spell{{1, 100}, {2, 50}}, 50},
	} {
		assert.Equal(t, timeline.Score.Tempo.Scaled(tt.want), through(t, timeline, tt.spells...).Tempo, name)
	}
}

// TestNoBarIsKeptFaster than it was danced: whatever the tempo does, some bar of the run-through was
// danced no faster than kept, and less than a bar slower.
func TestNoBarIsKeptFaster(t *testing.T) {
	timeline := read(t, boathouse)
	rapid.Check(t, func(t *rapid.T) {
		var spells []spell
		left := 32
		for left > 0 {
			s := spell{rapid.IntRange(1, left).Draw(t, "beats"), float64(rapid.IntRange(2, 30).Draw(t, "percent") * 5)}
			spells, left = append(spells, s), left-s.beats
		}
		tempo := through(t, timeline, spells...).Tempo
		slower, noFaster := 0, 0
		for _, s := range spells {
			if own := timeline.Score.Tempo.Scaled(s.percent); own < tempo {
				slower += s.beats
				noFaster += s.beats
			} else if own == tempo {
				noFaster += s.beats
			}
		}
		if slower > 4 || noFaster < 4 {
			t.Fatalf("%v is kept at %v: %d beats were slower, %d no faster", spells, tempo, slower, noFaster)
		}
	})
}

// TestTheSheetsOwnTempiCountAsItsOwn: a slow figure in the sheet does not slow the run-through.
func TestTheSheetsOwnTempiCountAsItsOwn(t *testing.T) {
	timeline := read(t, "---\ndance: cha-cha\ntempo: 30 bars/min\n---\n\n## Order\n\n1. Closed basic\n   - tempo: 20 bars/min\n2. Time step\n   - tempo: 25 to 32 bars/min\n3. Closed basic\n")
	assert.Equal(t, timeline.Score.Tempo, through(t, timeline, spell{24, 100}).Tempo)
	assert.Equal(t, timeline.Score.Tempo.Scaled(80), through(t, timeline, spell{8, 100}, spell{16, 80}).Tempo)
}

// TestAJoinThatIsNotReachedIsMarked: dancers who go wrong at the end of a figure often stop there.
func TestAJoinThatIsNotReachedIsMarked(t *testing.T) {
	timeline := read(t, boathouse)
	end := timeline.Passage(0).To
	var log practice.Log
	at := evening(0)
	for beat := timeline.Start; beat < end; beat += routine.Beat {
		require.Nil(t, log.Follow(player.Moment{State: player.Dancing, Timeline: timeline, Beat: beat, Event: timeline.At(beat), Percent: 100,
			Tempo: timeline.Tempo(beat), Settings: player.DefaultSettings()}, at, routine.Both))
		at = at.Add(500 * time.Millisecond)
	}
	marked := log.Now.Mark(end-routine.Beat, routine.Follower)
	require.Contains(t, marked, practice.Place{Passage: 1, Join: true})
	pass := log.Stop(at).Kept()
	assert.Contains(t, pass.Marks, practice.Mark{Place: 1, Join: true, Partner: routine.Follower})
	require.Len(t, pass.Danced, 2)
	assert.True(t, pass.Danced[0].Whole)
	assert.False(t, pass.Danced[1].Whole)
}
