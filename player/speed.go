package player

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"dance.example/slowquick/routine"
)

// The limits of the tempo without a song, in per cent of the routine's own.
const (
	SlowestPercent = 10.0
	FastestPercent = 200.0
)

// OwnTempo returns the tempo at 100 %: the sheet's or, with a song, the song's.
func (t *Timeline) OwnTempo() routine.Tempo {
	switch {
	case t.music == nil:
		return t.Score.Tempo
	case t.music.Grid.Tempo > 0:
		return routine.Tempo(math.Round(t.music.Grid.Tempo * float64(routine.BeatPerMinute)))
	}
	return t.tempo.at(t.Start)
}

// slowest and fastest return the limits of the timeline's tempo, in per cent.
func (t *Timeline) slowest() float64 {
	if t.music != nil {
		return SlowestMusic
	}
	return SlowestPercent
}

func (t *Timeline) fastest() float64 {
	if t.music != nil {
		return FastestMusic
	}
	return FastestPercent
}

// leads returns what sets the tempo.
func (t *Timeline) leads() string {
	if t.music != nil {
		return "song"
	}
	return "routine"
}

// ParseTempo reads how fast a timeline is to be danced: "80 %", "24 bars/min" or
// "96 beats/min". By is the timeline's tempo at the place asked about, which becomes the
// tempo in text. The results are for [Settings]; tempo is 0 if text is a percentage. The
// error tells the dancer what is wrong, also if the tempo is too slow or too fast.
func (t *Timeline) ParseTempo(text string, by routine.Tempo) (percent float64, tempo routine.Tempo, err error) {
	if number, ok := strings.CutSuffix(strings.TrimSpace(text), "%"); ok {
		if percent, err = strconv.ParseFloat(strings.TrimSpace(number), 64); err != nil || math.IsNaN(percent) {
			return 0, 0, fmt.Errorf("%q is not a percentage", text)
		}
	} else {
		first, last, err := routine.ParseTempo(text, t.Score.Dance.Metre)
		switch {
		case err != nil:
			return 0, 0, err
		case first != last:
			return 0, 0, errors.New("say one tempo, not a range")
		}
		percent = first.Float() / by.Float() * 100
		tempo = t.OwnTempo().Scaled(percent)
	}
	return percent, tempo, t.reaches(percent, strings.TrimSpace(text))
}

// reaches returns an error if a percentage can't be danced. Asked is the text in which the
// dancer asked for it.
func (t *Timeline) reaches(percent float64, asked string) error {
	slowest, fastest, wrong := t.slowest(), t.fastest(), "slow"
	switch {
	case percent > fastest:
		wrong = "fast"
	case percent >= slowest:
		return nil
	}
	own := t.Score.Dance.BarsPerMinute(t.OwnTempo())
	tenths := func(x float64) string { return strconv.FormatFloat(x/10, 'f', -1, 64) }
	least, most := math.Ceil(own*slowest/10-1e-6), math.Floor(own*fastest/10+1e-6)
	return fmt.Errorf("%s is too %s: the %s's %s bars/min can be danced from %.0f to %.0f %%: %s to %s bars/min",
		asked, wrong, t.leads(), tenths(math.Round(10*own)), slowest, fastest, tenths(least), tenths(most))
}
