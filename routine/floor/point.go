package floor

import (
	"fmt"
	"math"
	"strings"

	"dance.example/slowquick/routine"
)

// Point is a point in the hall, or the way from one point to another, in
// centimetres: X along the first line of dance, Y towards its wall. Directions
// go clockwise when Y is drawn downwards.
type Point struct{ X, Y float64 }

// Plus returns the sum of two ways.
func (p Point) Plus(q Point) Point { return Point{p.X + q.X, p.Y + q.Y} }

// Minus returns the way from q to p.
func (p Point) Minus(q Point) Point { return Point{p.X - q.X, p.Y - q.Y} }

// Times returns p scaled by f.
func (p Point) Times(f float64) Point { return Point{p.X * f, p.Y * f} }

func (p Point) dot(q Point) float64 { return p.X*q.X + p.Y*q.Y }
func (p Point) length() float64     { return math.Hypot(p.X, p.Y) }
func (p Point) bearing() float64    { return math.Atan2(p.Y, p.X) * 180 / math.Pi }
func polar(r, degrees float64) Point {
	s, c := math.Sincos(degrees * math.Pi / 180)
	return Point{r * c, r * s}
}

// Distance returns how far q is from p, in centimetres.
func (p Point) Distance(q Point) float64 { return p.Minus(q).length() }

// units are the eight directions. With these, eight eighths are exactly one turn.
var units = [8]Point{{1, 0}, {diagonal, diagonal}, {0, 1}, {-diagonal, diagonal}, {-1, 0}, {-diagonal, -diagonal}, {0, -1}, {diagonal, -diagonal}}

const diagonal = math.Sqrt2 / 2

// Turned returns p turned about the origin. Right turns are positive.
func (p Point) Turned(t routine.Turn) Point {
	u := units[routine.LOD.Turned(t)]
	return Point{p.X*u.X - p.Y*u.Y, p.X*u.Y + p.Y*u.X}
}

// rotated returns p turned about the origin by degrees to the right.
func (p Point) rotated(degrees float64) Point {
	if degrees == 0 {
		return p
	}
	s, c := math.Sincos(degrees * math.Pi / 180)
	return Point{p.X*c - p.Y*s, p.X*s + p.Y*c}
}

// degrees returns a turn in degrees.
func degrees(t routine.Turn) float64 { return float64(t) * 45 }

// nowhere is the length, in centimetres, below which a way is not worth mentioning.
const nowhere = 5.0

// Named describes p as a way, "1.2 m forward and 0.4 m to the left", given names for the four directions;
// "" if it leads nowhere.
func (p Point) Named(ahead, behind, right, left string) string {
	var parts []string
	tell := func(length float64, positive, negative string) {
		switch {
		case length >= nowhere:
			parts = append(parts, fmt.Sprintf("%.1f m %s", length/100, positive))
		case length <= -nowhere:
			parts = append(parts, fmt.Sprintf("%.1f m %s", -length/100, negative))
		}
	}
	tell(p.X, ahead, behind)
	tell(p.Y, right, left)
	return strings.Join(parts, " and ")
}

// facing converts p, given as forward and to the right of someone who faces d,
// to a way in the hall.
func (p Point) facing(d routine.Direction) Point { return p.Turned(routine.Turn(d)) }

// seenFrom converts a way in the hall to forward and to the right of someone who faces d.
func (p Point) seenFrom(d routine.Direction) Point { return p.Turned(-routine.Turn(d)) }
