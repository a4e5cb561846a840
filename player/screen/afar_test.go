package screen_test

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// drawn reports whether a part of a line has letters or signs that are drawn large.
func drawn(line []rune, from, to int) bool {
	return strings.ContainsAny(string(line[min(from, len(line)):min(to, len(line))]), "▀▄█▌▐")
}

// lines are those of what is seen.
func (s *show) lines() (lines [][]rune) {
	for _, l := range strings.Split(s.text(), "\n") {
		lines = append(lines, []rune(l))
	}
	return lines
}

// find returns the line and the column in which a text begins; -1 if it is not seen.
func find(lines [][]rune, text string) (line, column int) {
	for y, l := range lines {
		if i := strings.Index(string(l), text); i >= 0 {
			return y, len([]rune(string(l)[:i]))
		}
	}
	return -1, -1
}

// afar is the rows below which nothing can be read from three metres.
const afar = 3

// TestTheStepIsReadFromAfar: the count and each partner's sign are large. In a window of 40 by 15 one
// partner's sign stays, and the other's step is in words.
func TestTheStepIsReadFromAfar(t *testing.T) {
	for _, size := range sizes {
		t.Run(size.String(), func(t *testing.T) {
			dances(t, "boathouse", size.width, size.height, func(s *show) {
				for range 9 { // every step of a figure
					lines := s.lines()
					leader, column := find(lines, "leader ")
					follower, _ := find(lines, "follower ")
					require.Positive(t, leader, s.text())
					require.Positive(t, follower, s.text())
					const head = 2 // lines of text, at least
					rows := func(from, to, left, right int) (n int) {
						for _, l := range lines[from:to] {
							if drawn(l, left, right) {
								n++
							}
						}
						return n
					}
					bottom := follower
					if size.height >= 24 {
						assert.GreaterOrEqual(t, rows(leader+1, follower, column, size.width), afar, "the follower's sign\n%s", s.text())
					}
					assert.GreaterOrEqual(t, rows(head, bottom, 0, column), afar, "the count\n%s", s.text())
					assert.GreaterOrEqual(t, rows(head, leader, column, size.width), afar, "the leader's sign\n%s", s.text())
					s.keys("right").heard()
				}
			})
		})
	}
}

// TestAClassReadsFromAfar: the count and the name of the figure are large in every window.
func TestAClassReadsFromAfar(t *testing.T) {
	for _, size := range sizes {
		t.Run(size.String(), func(t *testing.T) {
			dances(t, "boathouse", size.width, size.height, func(s *show) {
				s.keys("v", "v")
				s.wait(11 * time.Second) // nothing is said any more
				first := s.lines()
				counts := map[int]bool{} // the lines that change with the count
				seen := [][][]rune{first}
				for range 4 {
					s.keys("right").heard()
					seen = append(seen, s.lines())
					for y, l := range s.lines() {
						if string(l) != string(first[y]) && (drawn(l, 0, size.width) || drawn(first[y], 0, size.width)) {
							counts[y] = true
						}
					}
				}
				for i, lines := range seen {
					n := 0
					for y := range counts {
						if drawn(lines[y], 0, size.width) {
							n++
						}
					}
					assert.GreaterOrEqual(t, n, afar, "count %d", i)
				}
				names := 0
				for y, l := range first {
					if !counts[y] && drawn(l, 0, size.width) {
						names++
					}
				}
				want := 2 * afar
				if size.height < 24 { // there what comes next is text
					want = afar
				}
				assert.GreaterOrEqual(t, names, want, "the figure, and what comes next\n%s", s.text())
			})
		})
	}
}
