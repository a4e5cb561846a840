package routine

import (
	"fmt"
	"math"
	"math/big"
	"strconv"
)

// Beats is a position in music or a length of it, exact, in 1/960 of a beat.
//
// 960 divides into halves, quarters, eighths, thirds and fifths, and is a resolution that music
// programs commonly use for a Standard MIDI File.
type Beats int64

// Beat is one beat.
const Beat Beats = 960

// String returns b as a mixed fraction of beats, "1 1/2".
func (b Beats) String() string {
	sign := ""
	if b < 0 {
		sign, b = "-", -b
	}
	whole, part := b/Beat, b%Beat
	if part == 0 {
		return fmt.Sprintf("%s%d", sign, whole)
	}
	fraction := big.NewRat(int64(part), int64(Beat)).String()
	if whole == 0 {
		return sign + fraction
	}
	return fmt.Sprintf("%s%d %s", sign, whole, fraction)
}

// InBeats returns b with its unit: "1/2 beat", "1 beat", "1 1/2 beats".
func (b Beats) InBeats() string {
	if 0 < b && b <= Beat {
		return b.String() + " beat"
	}
	return b.String() + " beats"
}

// Float returns b in beats, for the last step from beats to time.
func (b Beats) Float() float64 { return float64(b) / float64(Beat) }

// MarshalJSON writes b in beats as a decimal number.
func (b Beats) MarshalJSON() ([]byte, error) {
	return strconv.AppendFloat(nil, b.Float(), 'f', -1, 64), nil
}

// UnmarshalJSON reads what MarshalJSON wrote.
func (b *Beats) UnmarshalJSON(text []byte) error {
	f, err := strconv.ParseFloat(string(text), 64)
	if err != nil {
		return fmt.Errorf("read beats: %w", err)
	}
	*b = Beats(math.Round(f * float64(Beat)))
	return nil
}

// longestCount is the longest that one count may last.
const longestCount = 64 * Beat

var beatsPattern = lazily(`^\s*(?:(\d{1,4})(?:\s+|\s*$))?(?:(\d{1,4})/(\d{1,4}))?\s*$`)

// parseBeats reads "2", "1/2" or "1 1/2". It returns false for anything else, for lengths that are not
// whole numbers of 1/960 beats, and outside 0–64 beats.
func parseBeats(text string) (b Beats, ok bool) {
	m := beatsPattern.FindStringSubmatch(text)
	if m == nil || m[1] == "" && m[2] == "" {
		return 0, false
	}
	whole, _ := strconv.Atoi(m[1]) // digits, or nothing
	b = Beats(whole) * Beat
	if m[2] != "" {
		n, _ := strconv.Atoi(m[2])
		d, _ := strconv.Atoi(m[3])
		if d == 0 || Beats(n)*Beat%Beats(d) != 0 || whole > 0 && n >= d {
			return 0, false
		}
		b += Beats(n) * Beat / Beats(d)
	}
	return b, b <= longestCount
}

// Into returns how far b lies after the last multiple of unit, such as a bar: from 0 up to, but not
// including, unit, even if b is negative. The unit must be positive.
func (b Beats) Into(unit Beats) Beats {
	into := b % unit
	if into < 0 {
		into += unit
	}
	return into
}

// Floor returns the last multiple of unit that is not after b.
func (b Beats) Floor(unit Beats) Beats { return b - b.Into(unit) }

// Ceil returns the first multiple of unit that is not before b.
func (b Beats) Ceil(unit Beats) Beats { return b + (-b).Into(unit) }
