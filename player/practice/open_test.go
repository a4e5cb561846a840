package practice_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/routine"
)

// unjudged returns a run-through of which nobody said how it went, but for its marks.
func unjudged(k practice.Kept) practice.Kept {
	k.Judged = [2]bool{}
	return k
}

// TestWhoWatchesHasNothingClean: what nobody judged was danced, and nothing more.
func TestWhoWatchesHasNothingClean(t *testing.T) {
	timeline := read(t, boathouse)
	piece := practice.Piece{Figure: figureNamed(t, timeline, "Boathouse step")}
	watched := []practice.Kept{unjudged(danced(timeline, evening(0), whole(timeline), 100)), unjudged(danced(timeline, evening(1), whole(timeline), 100))}
	h := practice.NewHistory(timeline.Score, watched, time.UTC)
	r := h.Of(piece, routine.Leader)
	assert.Equal(t, 2, r.Passes)
	assert.True(t, evening(1).Equal(r.Last))
	assert.Zero(t, r.Judged)
	assert.Zero(t, r.Best)
	assert.True(t, r.New(), "no grade")
	assert.Zero(t, h.Whole(routine.Leader))
	assert.False(t, watched[0].Clean(routine.Leader))
	session := practice.NewSession(timeline, h, practice.Wish{Now: evening(2), Minutes: 15})
	assert.Less(t, session.Level, 100.0)

	watched[1].Judged[routine.Leader] = true
	h = practice.NewHistory(timeline.Score, watched, time.UTC)
	l, f := h.Of(piece, routine.Leader), h.Of(piece, routine.Follower)
	assert.Equal(t, []int{1, 0}, []int{l.Judged, f.Judged})
	assert.Equal(t, []routine.Tempo{timeline.Score.Tempo, 0}, []routine.Tempo{l.Best, f.Best})
	assert.Equal(t, timeline.Score.Tempo, h.Whole(routine.Leader))
	assert.Zero(t, h.Whole(routine.Follower))
	assert.True(t, watched[1].Clean(routine.Leader))
	assert.False(t, watched[1].Clean(routine.Follower))
	assert.False(t, l.New())
}

// TestAMarkJudgesOnlyItsPlace: of the rest nobody knows how it went.
func TestAMarkJudgesOnlyItsPlace(t *testing.T) {
	timeline := read(t, boathouse)
	k := unjudged(danced(timeline, evening(0), whole(timeline), 100, practice.Mark{Place: 1, Partner: routine.Leader}))
	h := practice.NewHistory(timeline.Score, []practice.Kept{k}, time.UTC)
	marked := h.Of(practice.Piece{Figure: figureNamed(t, timeline, "Boathouse step")}, routine.Leader)
	rest := h.Of(practice.Piece{Figure: figureNamed(t, timeline, "Time step")}, routine.Leader)
	assert.Equal(t, []int{1, 1}, []int{marked.Judged, marked.Marks})
	assert.Equal(t, []int{1, 0}, []int{rest.Passes, rest.Judged})
	assert.Zero(t, rest.Best)
	assert.False(t, k.Clean(routine.Leader))
}

// TestAMarkThatWasTakenBack leaves its place neither wrong nor clean.
func TestAMarkThatWasTakenBack(t *testing.T) {
	timeline := read(t, boathouse)
	k := danced(timeline, evening(0), whole(timeline), 100)
	k.TakenBack = []practice.Mark{{Place: 1, Partner: routine.Leader}}
	h := practice.NewHistory(timeline.Score, []practice.Kept{k}, time.UTC)
	piece := practice.Piece{Figure: figureNamed(t, timeline, "Boathouse step")}
	l, f := h.Of(piece, routine.Leader), h.Of(piece, routine.Follower)
	assert.Equal(t, []int{0, 1}, []int{l.Judged, f.Judged})
	assert.Zero(t, l.Marks)
	assert.Zero(t, h.Whole(routine.Leader))
	assert.Empty(t, h.Marks())
}

// TestAMarkStays until its piece was danced clean, by the partner who marked it, at the tempo of the mark.
func TestAMarkStays(t *testing.T) {
	timeline := read(t, twice)
	first, second := practice.Mark{Place: 1, Join: true, Partner: routine.Follower}, practice.Mark{Place: 3, Join: true, Partner: routine.Follower}
	leader := practice.Mark{Place: 4, Partner: routine.Leader}
	join := practice.Piece{Figure: figureNamed(t, timeline, "Closed basic"), Then: figureNamed(t, timeline, "Boathouse step")}
	tempo := timeline.Score.Tempo.Scaled
	of := func(passes ...practice.Kept) []practice.OpenMark {
		return practice.NewHistory(timeline.Score, passes, time.UTC).Marks()
	}
	all := whole(timeline)
	passes := []practice.Kept{
		danced(timeline, evening(0), all, 100, first, second),
		danced(timeline, evening(1), all, 90, second, leader),
	}
	onTheJoin := practice.OpenMark{Piece: join, Partner: routine.Follower, Tempo: tempo(100), At: evening(1), Times: 2}
	onTheFigure := practice.OpenMark{Piece: practice.Piece{Figure: figureNamed(t, timeline, "Time step")}, Partner: routine.Leader, Tempo: tempo(90), At: evening(1), Times: 1}
	require.Equal(t, []practice.OpenMark{onTheJoin, onTheFigure}, of(passes...), "the join that comes twice is one")

	add := func(k practice.Kept) { passes = append(passes, k) }
	add(unjudged(danced(timeline, evening(2), all, 120)))
	assert.Len(t, of(passes...), 2, "watched")
	alone := danced(timeline, evening(3), all, 120)
	alone.Dancers = routine.LeaderAlone
	add(alone)
	assert.Equal(t, []practice.OpenMark{onTheJoin}, of(passes...), "the leader's is gone")
	add(danced(timeline, evening(4), all, 90))
	onTheJoin.Times, onTheJoin.At = 1, evening(0)
	assert.Equal(t, []practice.OpenMark{onTheJoin}, of(passes...), "what was marked faster")
	add(danced(timeline, evening(5), all, 100, first))
	onTheJoin.Times, onTheJoin.At = 2, evening(5)
	assert.Equal(t, []practice.OpenMark{onTheJoin}, of(passes...), "clean in one of two places only")
	add(danced(timeline, evening(6), timeline.Join(0), 100))
	assert.Empty(t, of(passes...), "drilled alone")
}
