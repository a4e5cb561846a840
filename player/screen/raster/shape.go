package raster

import (
	"math"
	"slices"
)

// Point is a place in pixels, from the top left corner of a canvas.
type Point struct{ X, Y float64 }

// Plus returns the sum of p and q.
func (p Point) Plus(q Point) Point { return Point{p.X + q.X, p.Y + q.Y} }

// Minus returns the way from q to p.
func (p Point) Minus(q Point) Point { return Point{p.X - q.X, p.Y - q.Y} }

// Times returns p, k times as far from the corner.
func (p Point) Times(k float64) Point { return Point{p.X * k, p.Y * k} }

// Rotated returns p turned about the corner, clockwise as seen, by an angle in radians.
func (p Point) Rotated(angle float64) Point {
	sin, cos := math.Sincos(angle)
	return Point{p.X*cos - p.Y*sin, p.X*sin + p.Y*cos}
}

// Shape is an area within closed contours. What lies in contours that run the same way
// round is filled, and a contour within them that runs the other way cuts a hole. The
// functions here make contours that run clockwise as seen. Where two contours overlap,
// their edges are blended twice, so it is better to fill two shapes.
type Shape [][]Point

// Polygon returns the area within the corners.
func Polygon(corners ...Point) Shape {
	s := Shape{slices.Clone(corners)}
	if area(corners) < 0 {
		return s.reversed()
	}
	return s
}

// Rectangle returns the upright rectangle between two opposite corners.
func Rectangle(from, to Point) Shape {
	return Polygon(from, Point{to.X, from.Y}, to, Point{from.X, to.Y})
}

// Disc returns a disc.
func Disc(center Point, radius float64) Shape { return Ellipse(center, radius, radius) }

// Ellipse returns an upright ellipse, given its half axes.
func Ellipse(center Point, rx, ry float64) Shape {
	const corners = 32
	c := make([]Point, corners)
	for i := range c {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / corners)
		c[i] = Point{center.X + rx*cos, center.Y + ry*sin}
	}
	return Shape{c}
}

// Slice returns the slice of a disc that begins at the top and goes round by an angle in
// radians, clockwise if it is positive; at most once round.
func Slice(center Point, radius, angle float64) Shape {
	angle = min(max(angle, -2*math.Pi), 2*math.Pi)
	n := 1 + int(math.Ceil(math.Abs(angle)*16/math.Pi))
	c := []Point{center}
	for i := range n + 1 {
		sin, cos := math.Sincos(angle * float64(i) / float64(n))
		c = append(c, Point{center.X + radius*sin, center.Y - radius*cos})
	}
	return Polygon(c...)
}

// Line returns a line through the points, so many pixels wide, with flat ends.
func Line(width float64, points ...Point) Shape {
	points = distinct(points)
	if len(points) < 2 {
		return nil
	}
	edge := beside(points, width/2, false)
	back := beside(points, -width/2, false)
	slices.Reverse(back)
	return Polygon(append(edge, back...)...)
}

// Bend returns points on the curve from one place to another that is drawn towards
// control: a quadratic Bézier curve, for [Line].
func Bend(from, control, to Point) []Point {
	const n = 12
	points := make([]Point, n+1)
	for i := range points {
		u := float64(i) / n
		points[i] = from.Times((1 - u) * (1 - u)).Plus(control.Times(2 * u * (1 - u))).Plus(to.Times(u * u))
	}
	return points
}

// Outline returns a line along the edge of s, within it. Where s is too narrow for a hole
// it is filled.
func (s Shape) Outline(width float64) Shape {
	line := s[:len(s):len(s)]
	for _, c := range s {
		if c = distinct(c); len(c) < 3 {
			continue
		}
		inner := beside(c, width, true)
		if area(c)*area(inner) > 0 && math.Abs(area(inner)) < math.Abs(area(c)) == (area(c) > 0) { // else there is no room
			line = append(line, Shape{inner}.reversed()...)
		}
	}
	return line
}

// Grow returns s with its edge so many pixels further out.
func (s Shape) Grow(by float64) Shape {
	var t Shape
	for _, c := range s {
		if c = distinct(c); len(c) > 2 {
			t = append(t, beside(c, -by, true))
		}
	}
	return t
}

// beside returns the points so far to the side of a line, or of a contour. Bends are
// mitred, but for sharp ones.
func beside(points []Point, off float64, closed bool) []Point {
	n := len(points)
	normal := func(i int) Point { // of the line that begins there
		way := points[(i+1)%n].Minus(points[i])
		return Point{-way.Y, way.X}.Times(1 / math.Hypot(way.X, way.Y))
	}
	var edge []Point
	for i, p := range points {
		var before, after Point
		switch {
		case !closed && i == 0:
			after = normal(i)
			before = after
		case !closed && i == n-1:
			before = normal(i - 1)
			after = before
		default:
			before, after = normal((i+n-1)%n), normal(i)
		}
		if k := 1 + before.X*after.X + before.Y*after.Y; k > 0.3 {
			edge = append(edge, p.Plus(before.Plus(after).Times(off/k)))
		} else {
			edge = append(edge, p.Plus(before.Times(off)), p.Plus(after.Times(off)))
		}
	}
	return edge
}

// distinct returns the points without those that repeat the one before.
func distinct(points []Point) []Point { return slices.Compact(slices.Clone(points)) }

// area returns the area within a contour, below 0 if it runs counter-clockwise.
func area(c []Point) float64 {
	sum := 0.0
	for i, p := range c {
		q := c[(i+1)%len(c)]
		sum += p.X*q.Y - q.X*p.Y
	}
	return sum / 2
}

// Move returns s moved by so many pixels.
func (s Shape) Move(x, y float64) Shape {
	return s.each(func(p Point) Point { return Point{p.X + x, p.Y + y} })
}

// Scale returns s made larger from the corner. A factor below 0 mirrors it.
func (s Shape) Scale(x, y float64) Shape {
	t := s.each(func(p Point) Point { return Point{p.X * x, p.Y * y} })
	if x*y < 0 {
		return t.reversed()
	}
	return t
}

// Rotate returns s turned about a place, clockwise as seen, by an angle in radians.
func (s Shape) Rotate(about Point, angle float64) Shape {
	return s.each(func(p Point) Point { return p.Minus(about).Rotated(angle).Plus(about) })
}

// Without returns s with a hole. The hole must lie within s.
func (s Shape) Without(hole Shape) Shape { return append(s[:len(s):len(s)], hole.reversed()...) }

// Bounds returns the corners of the smallest upright rectangle about s; both are zero if
// there is nothing in it.
func (s Shape) Bounds() (from, to Point) {
	first := true
	for _, c := range s {
		for _, p := range c {
			if first {
				from, to, first = p, p, false
			}
			from = Point{min(from.X, p.X), min(from.Y, p.Y)}
			to = Point{max(to.X, p.X), max(to.Y, p.Y)}
		}
	}
	return from, to
}

func (s Shape) each(f func(Point) Point) Shape {
	t := make(Shape, len(s))
	for i, c := range s {
		t[i] = make([]Point, len(c))
		for j, p := range c {
			t[i][j] = f(p)
		}
	}
	return t
}

func (s Shape) reversed() Shape {
	t := make(Shape, len(s))
	for i, c := range s {
		t[i] = slices.Clone(c)
		slices.Reverse(t[i])
	}
	return t
}
