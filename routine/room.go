package routine

import (
	"cmp"
	"errors"
	"fmt"
	"strconv"
	"strings"
)

// Length is a length on the floor, in centimetres.
type Length float64

// String returns l as people say it: "60 cm", "2.5 m".
func (l Length) String() string {
	if l >= 100 {
		return trimNumber(float64(l)/100) + " m"
	}
	return trimNumber(float64(l)) + " cm"
}

// Stride is how far the feet usually go in a dance: forward or back, to the side, and, in either way,
// on a count of less than a beat.
type Stride struct {
	Forward, Side, Short Length
	Source               string
}

// plainStride is the stride of a dance that gives none. Common practice for a room in which others
// dance too.
var plainStride = Stride{Forward: 50, Side: 40, Short: 25, Source: "common practice"}

// The shortest and the longest step that a sheet may set.
const (
	shortestStep Length = 10
	longestStep  Length = 150
)

// Room is the floor that a sheet is danced on: its length along the first line of dance, and its width.
// The zero Room is unknown.
type Room struct{ Along, Across Length }

// The smallest and the largest side of a floor.
const (
	smallestSide Length = 100
	largestSide  Length = 20000
)

// String returns r as a sheet writes it, "8 x 6 m".
func (r Room) String() string {
	return trimNumber(float64(r.Along)/100) + " x " + trimNumber(float64(r.Across)/100) + " m"
}

// parseLength reads "60 cm" or "0.6 m" and checks that it lies from shortest to longest.
func parseLength(text string, shortest, longest Length) (Length, error) {
	text = strings.TrimSpace(text)
	unit := Length(1)
	number, ok := strings.CutSuffix(text, "cm")
	if !ok {
		unit = 100
		number, ok = strings.CutSuffix(text, "m")
	}
	n, err := strconv.ParseFloat(strings.TrimSpace(number), 64)
	if !ok || err != nil {
		return 0, errors.New("is not a length")
	}
	l := Length(n) * unit
	if !(shortest <= l && l <= longest) { // true for NaN too
		return 0, fmt.Errorf("is not between %s and %s", shortest, longest)
	}
	return l, nil
}

var roomPattern = lazily(`^\s*([\d.]+)\s*(cm|m)?\s*(?:[x×]|by)\s*([\d.]+)\s*(cm|m)?\s*$`)

// ParseRoom reads "8 x 6 m". Without a unit it is in metres, as halls are.
func ParseRoom(text string) (Room, error) {
	m := roomPattern.FindStringSubmatch(text)
	if m == nil {
		return Room{}, errors.New("is not the size of a floor")
	}
	m[4] = cmp.Or(m[4], "m")
	m[2] = cmp.Or(m[2], m[4])
	along, err := parseLength(m[1]+m[2], smallestSide, largestSide)
	if err != nil {
		return Room{}, fmt.Errorf("has a side that %w", err)
	}
	across, err := parseLength(m[3]+m[4], smallestSide, largestSide)
	if err != nil {
		return Room{}, fmt.Errorf("has a side that %w", err)
	}
	return Room{along, across}, nil
}
