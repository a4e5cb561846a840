package practice_test

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/player"
	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/routine"
)

func figureNamed(t testing.TB, timeline *player.Timeline, name string) practice.Figure {
	t.Helper()
	for i := range timeline.Score.Passages {
		if fig := timeline.Score.Passages[i].Figure; fig.Name == name {
			return practice.FigureOf(timeline.Score.Dance, fig)
		}
	}
	require.FailNow(t, "no figure "+name)
	return practice.Figure{}
}

// TestAFigureIsKnownAgain by its steps when it is renamed, and by its name when
// its steps are edited.
func TestAFigureIsKnownAgain(t *testing.T) {
	before := read(t, boathouse)
	passes := []practice.Kept{danced(before, evening(0), whole(before), 100, bothMark(1, false)...)}
	for name, edit := range map[string]func(string) string{
		"as it was": func(s string) string { return s },
		"renamed":   func(s string) string { return strings.ReplaceAll(s, "Boathouse step", "Jetty step") },
		"edited":    func(s string) string { return strings.Replace(s, "LF forward, check    ", "LF forward, sway L   ", 1) },
		"remarked":  func(s string) string { return strings.Replace(s, "LF side      ", "LF side (low)", 1) },
		"retitled":  func(s string) string { return strings.Replace(s, "evening", "night", 1) },
	} {
		after := read(t, edit(boathouse))
		fig := practice.FigureOf(after.Score.Dance, after.Score.Passages[1].Figure)
		h := practice.NewHistory(after.Score, passes, time.UTC)
		r := h.Of(practice.Piece{Figure: fig}, routine.Follower)
		assert.Equal(t, 1, r.Passes, name)
		assert.Equal(t, 1, r.Marks, name)
		basic := figureNamed(t, after, "Closed basic")
		join := h.Of(practice.Piece{Figure: basic, Then: fig}, routine.Leader)
		assert.Equal(t, 1, join.Passes, name)
		assert.Zero(t, join.Marks, name)
	}
	elsewhere := read(t, strings.Replace(strings.ReplaceAll(boathouse, "Boathouse step", "Jetty step"), "LF forward, check    ", "LF forward, sway L   ", 1))
	h := practice.NewHistory(elsewhere.Score, passes, time.UTC)
	r := h.Of(practice.Piece{Figure: figureNamed(t, elsewhere, "Jetty step")}, routine.Leader)
	assert.Zero(t, r.Passes, "of another name and other steps")
}

// TestAMarkCountsInAFigureThatWasNotDancedToItsEnd, as dancers stop where it goes wrong.
func TestAMarkCountsInAFigureThatWasNotDancedToItsEnd(t *testing.T) {
	timeline := read(t, boathouse)
	fig := timeline.Passage(1)
	part := player.Interval{From: fig.From, To: fig.From + 3*routine.Beat}
	piece := practice.Piece{Figure: figureNamed(t, timeline, "Boathouse step")}
	of := func(marks ...practice.Mark) practice.Record {
		p := danced(timeline, evening(0), part, 80, marks...)
		require.False(t, p.Danced[0].Whole)
		return practice.NewHistory(timeline.Score, []practice.Kept{p}, time.UTC).Of(piece, routine.Follower)
	}
	assert.Zero(t, of().Passes, "nobody can say that it went well")
	r := of(bothMark(0, false)...)
	assert.Equal(t, 1, r.Marks)
	assert.Equal(t, 1, r.Passes)
	assert.Zero(t, r.Best)
}

func TestStepsTellFiguresApart(t *testing.T) {
	timeline := sheet(t, "lantern-night-cha-cha")
	left, right := figureNamed(t, timeline, "New York to the left side"), figureNamed(t, timeline, "New York to the right side")
	assert.NotEqual(t, left.Steps, right.Steps)
	assert.Equal(t, left, figureNamed(t, sheet(t, "lantern-night-cha-cha"), "New York to the left side"))
}

// TestADayIsGradedByItsFirstRunThrough: forgotten if that was marked, however often it went well afterwards;
// shaky if only a later one was.
func TestADayIsGradedByItsFirstRunThrough(t *testing.T) {
	timeline := read(t, boathouse)
	piece := practice.Piece{Figure: figureNamed(t, timeline, "Boathouse step")}
	today := practice.DayOf(evening(0))
	for name, c := range map[string]struct {
		marked []bool
		want   practice.Grade
	}{
		"clean":     {[]bool{false, false, false}, practice.Clean},
		"shaky":     {[]bool{false, true, false}, practice.Shaky},
		"forgotten": {[]bool{true, false, false}, practice.Forgotten},
	} {
		var passes []practice.Kept
		for i, marked := range c.marked {
			p := danced(timeline, evening(0).Add(time.Duration(i)*time.Minute), whole(timeline), 80)
			if marked {
				p.Marks = bothMark(1, false)
			}
			passes = append(passes, p)
		}
		r := practice.NewHistory(timeline.Score, passes, time.UTC).Of(piece, routine.Leader)
		assert.Equal(t, practice.Memory{}.After(today, c.want), r.Memory, name)
	}
}

func TestARecord(t *testing.T) {
	timeline := read(t, boathouse)
	piece := practice.Piece{Figure: figureNamed(t, timeline, "Boathouse step")}
	leader := practice.Mark{Place: 1, Partner: routine.Leader}
	passes := []practice.Kept{
		danced(timeline, evening(0), whole(timeline), 80),
		danced(timeline, evening(1), whole(timeline), 100, leader),
		danced(timeline, evening(2), timeline.Passage(1), 90), // alone: one place
		danced(timeline, evening(3), timeline.Join(0), 120),   // only its first bar
	}
	passes[2].Dancers = routine.FollowerAlone
	h := practice.NewHistory(timeline.Score, passes, time.UTC)
	l, f := h.Of(piece, routine.Leader), h.Of(piece, routine.Follower)
	assert.Equal(t, []int{2, 3}, []int{l.Passes, f.Passes})
	assert.Equal(t, []int{1, 0}, []int{l.Marks, f.Marks})
	assert.Equal(t, []routine.Tempo{timeline.Score.Tempo.Scaled(80), timeline.Score.Tempo}, []routine.Tempo{l.Best, f.Best})
	assert.True(t, evening(1).Equal(l.Last))
	assert.True(t, l.Shaky())
	assert.False(t, f.Shaky())
	assert.Equal(t, timeline.Score.Tempo.Scaled(80), h.Whole(routine.Leader))
	assert.Equal(t, timeline.Score.Tempo, h.Whole(routine.Follower), "its own marks count")
	join := h.Of(practice.Piece{Figure: figureNamed(t, timeline, "Closed basic"), Then: piece.Figure}, routine.Leader)
	assert.Equal(t, 3, join.Passes)
}

// twice is a routine in which the same two figures occur twice.
var twice = strings.Replace(boathouse, "4. Time step", "4. Boathouse step\n5. Time step", 1)

// TestWhatComesTwiceIsOnePiece: a join or a figure that went wrong anywhere in a run-through went wrong
// in it once, and is planned the same evening for the partner who marked it.
func TestWhatComesTwiceIsOnePiece(t *testing.T) {
	timeline := read(t, twice)
	basic, step := figureNamed(t, timeline, "Closed basic"), figureNamed(t, timeline, "Boathouse step")
	join, figure := practice.Piece{Figure: basic, Then: step}, practice.Piece{Figure: step}
	require.Equal(t, basic, practice.FigureOf(timeline.Score.Dance, timeline.Score.Passages[2].Figure))
	for _, place := range []int{1, 3} {
		for piece, isJoin := range map[practice.Piece]bool{join: true, figure: false} {
			mark := practice.Mark{Place: place, Join: isJoin, Partner: routine.Follower}
			passes := []practice.Kept{danced(timeline, evening(0), whole(timeline), 100), danced(timeline, evening(0).Add(time.Minute), whole(timeline), 100, mark)}
			h := practice.NewHistory(timeline.Score, passes, time.UTC)
			f, l := h.Of(piece, routine.Follower), h.Of(piece, routine.Leader)
			assert.True(t, f.Shaky(), "%v at %d", piece, place)
			assert.False(t, l.Shaky(), "%v at %d", piece, place)
			assert.Equal(t, []int{2, 1}, []int{f.Passes, f.Marks}, "%v at %d", piece, place)
			var planned []routine.Dancers
			for _, s := range practice.NewSession(timeline, h, practice.Wish{Now: evening(0).Add(time.Hour), Minutes: 15, Couple: true}).Exercises {
				if s.What == piece.String() && (s.Kind == practice.ShakyJoin || s.Kind == practice.DueFigure) {
					planned = append(planned, s.Dancers)
				}
			}
			assert.Equal(t, []routine.Dancers{routine.FollowerAlone}, planned, "%v at %d", piece, place)
		}
	}
}

// TestWhoMarksHasDanced, even if only the other partner was shown.
func TestWhoMarksHasDanced(t *testing.T) {
	timeline := read(t, boathouse)
	join := practice.Piece{Figure: figureNamed(t, timeline, "Closed basic"), Then: figureNamed(t, timeline, "Boathouse step")}
	p := danced(timeline, evening(0), whole(timeline), 100, practice.Mark{Place: 1, Join: true, Partner: routine.Follower})
	p.Dancers = routine.LeaderAlone
	h := practice.NewHistory(timeline.Score, []practice.Kept{p}, time.UTC)
	f, l := h.Of(join, routine.Follower), h.Of(join, routine.Leader)
	assert.True(t, f.Shaky())
	assert.False(t, l.Shaky())
	other := h.Of(practice.Piece{Figure: join.Then}, routine.Follower)
	assert.Zero(t, other.Passes, "nobody knows whether the rest was danced")
}

// TestWhatAMarkIsOf: in the middle of a figure it is of the figure alone, near another figure of the
// join too.
func TestWhatAMarkIsOf(t *testing.T) {
	timeline := sheet(t, "lantern-night-cha-cha")
	p := timeline.Passage(4) // two bars
	assert.Equal(t, []practice.Place{{Passage: 4}, {Passage: 4, Join: true}}, practice.PlacesAt(timeline, p.From))
	assert.Equal(t, []practice.Place{{Passage: 4}, {Passage: 5, Join: true}}, practice.PlacesAt(timeline, p.To-1))
	one := timeline.Passage(2) // one bar
	assert.Equal(t, []practice.Place{{Passage: 2}, {Passage: 2, Join: true}}, practice.PlacesAt(timeline, one.From))
	assert.Equal(t, []practice.Place{{Passage: 2}, {Passage: 3, Join: true}}, practice.PlacesAt(timeline, one.To-1))
	first := practice.PlacesAt(timeline, timeline.Start)
	assert.Equal(t, practice.Place{Passage: 0}, first[0])
	assert.NotContains(t, first, practice.Place{Passage: 0, Join: true})
	assert.NotEmpty(t, practice.PlacesAt(timeline, timeline.End+routine.Beat), "the last figure, when it is over")
	for beat := timeline.Start; beat < timeline.End; beat += routine.Beat / 2 {
		for _, at := range practice.PlacesAt(timeline, beat) {
			if at.Join {
				assert.True(t, timeline.Join(at.Passage-1).Contains(beat))
			} else {
				assert.True(t, timeline.Passage(at.Passage).Contains(beat))
			}
		}
	}
}
