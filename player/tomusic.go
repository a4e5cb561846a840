package player

import (
	"math"
	"slices"

	"dance.example/slowquick/routine"
)

// To returns the timeline laid on the beats of a song. Beat 0, the first of the routine's
// first bar, is the first beat of the bar in which the dance begins. Before and after the
// song, beats have the length of its first and last. The error tells the dancer why there
// is no such bar.
func (t *Timeline) To(m *Music) (*Timeline, error) {
	one, err := m.one()
	if err != nil {
		return nil, err
	}
	laid := *t
	laid.music, laid.tempo, laid.places = m, m.tempo(one), t.stepPlaces()
	return &laid, nil
}

// stepPlaces returns the places of all beats together.
func (t *Timeline) stepPlaces() places {
	all := places{0}
	for _, e := range t.Events {
		all = append(all, float64(e.At%routine.Beat)/float64(routine.Beat))
	}
	slices.Sort(all)
	return slices.Compact(all)
}

// Music returns the song that the timeline is danced to; nil for none.
func (t *Timeline) Music() *Music { return t.music }

// MusicBars returns how many whole bars the song has from where the dance begins; 0 without
// a song.
func (t *Timeline) MusicBars() int {
	if t.music == nil {
		return 0
	}
	return int(t.musicEnd() / t.Score.Dance.Metre.Bar())
}

// musicEnd returns the beat at which the song's last beat ends.
func (t *Timeline) musicEnd() routine.Beats { return t.tempo[len(t.tempo)-1].to + routine.Beat }

// MusicLeft returns how many beats of the song are left at a beat; 0 without a song.
func (t *Timeline) MusicLeft(beat routine.Beats) routine.Beats {
	if t.music == nil {
		return 0
	}
	return max(0, t.musicEnd()-beat)
}

// MusicFrame returns the frame of the song at a beat; 0 without a song.
func (t *Timeline) MusicFrame(beat routine.Beats) int64 {
	if t.music == nil {
		return 0
	}
	return int64(math.Round(t.tempo.seconds(beat) * float64(t.music.Grid.Rate)))
}

// tempoBefore returns the tempo of the bars counted before a beat: the song's, or else the
// constant tempo of that beat.
func (t *Timeline) tempoBefore(beat routine.Beats) tempoMap {
	if t.music != nil {
		return t.tempo
	}
	return constantTempo(beat, t.tempo.at(beat))
}
