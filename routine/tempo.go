package routine

import (
	"fmt"
	"strconv"
	"strings"
)

// Tempo is a speed in thousandths of a beat a minute, exact.
type Tempo int64

// BeatPerMinute is one beat a minute.
const BeatPerMinute Tempo = 1000

// The tempi that the player can dance to.
const (
	SlowestTempo = 10 * BeatPerMinute
	FastestTempo = 400 * BeatPerMinute
)

// Float returns t in beats a minute, for the last step from beats to time.
func (t Tempo) Float() float64 { return float64(t) / float64(BeatPerMinute) }

// Scaled returns the given percentage of t, to the nearest thousandth.
func (t Tempo) Scaled(percent float64) Tempo { return Tempo(float64(t)*percent/100 + 0.5) }

// MarshalJSON writes t in beats a minute.
func (t Tempo) MarshalJSON() ([]byte, error) { return []byte(trimNumber(t.Float())), nil }

// TempoRange is a range of tempi, both ends included. The zero value means none.
type TempoRange struct{ Min, Max Tempo }

// Contains reports whether t lies in r.
func (r TempoRange) Contains(t Tempo) bool { return r.Min <= t && t <= r.Max }

// Decimal writes f with at most "most" decimals, one or more, and no trailing zeros.
func Decimal(f float64, most int) string {
	text := strings.TrimRight(strings.TrimRight(strconv.FormatFloat(f, 'f', most, 64), "0"), ".")
	if text == "-0" {
		return "0"
	}
	return text
}

// trimNumber writes f with at most three decimals.
func trimNumber(f float64) string { return Decimal(f, 3) }

var tempoPattern = lazily(`(?i)^\s*(\d{1,4}(?:[.,]\d{1,3})?)(?:\s*(–|—|-|to)\s*(\d{1,4}(?:[.,]\d{1,3})?))?\s*([a-z][a-z/. ]*)?$`)

// ParseTempo reads "28 bars/min", "112 beats/min", "28–32 bars/min" or a ramp "24 to 28 bars/min". Bars
// a minute need the dance's metre; mpm is bars a minute and bpm beats a minute, as the trade writes
// them. The error is worded for dancers.
func ParseTempo(text string, metre Metre) (first, last Tempo, err error) {
	m := tempoPattern.FindStringSubmatch(text)
	if m == nil {
		return 0, 0, fmt.Errorf("%q is not a tempo", Plain(text))
	}
	perBeat := int64(1)
	switch strings.ToLower(strings.Join(strings.Fields(m[4]), " ")) {
	case "bars/min", "bars per minute", "bars a minute", "mpm", "bars/minute", "takte/min", "takte pro minute", "t/min", "mesures/min", "compases/min", "battute/min":
		perBeat = int64(metre.Beats)
	case "beats/min", "beats per minute", "beats a minute", "bpm", "beats/minute":
	case "":
		return 0, 0, fmt.Errorf("the tempo %q has no unit", Plain(strings.TrimSpace(text)))
	default:
		return 0, 0, fmt.Errorf("%q is not a unit of tempo", Plain(strings.TrimSpace(m[4])))
	}
	read := func(s string) Tempo {
		f, _ := strconv.ParseFloat(strings.Replace(s, ",", ".", 1), 64) // the pattern admits only numbers
		return Tempo(f*float64(BeatPerMinute)+0.5) * Tempo(perBeat)
	}
	first = read(m[1])
	last = first
	if m[3] != "" {
		last = read(m[3])
	}
	for _, t := range []Tempo{first, last} {
		if t < SlowestTempo || t > FastestTempo {
			return 0, 0, fmt.Errorf("%s beats/min is outside the %s–%s beats/min that can be played",
				trimNumber(t.Float()), trimNumber(SlowestTempo.Float()), trimNumber(FastestTempo.Float()))
		}
	}
	return first, last, nil
}
