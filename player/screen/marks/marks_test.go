package marks_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/player"
	"dance.example/slowquick/player/internal/rehearsal"
	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/player/screen/marks"
	"dance.example/slowquick/routine"
)

// practised is a dance in a time of its own, followed ten times a second.
type practised struct {
	t      *testing.T
	book   marks.Book
	kept   []practice.Kept
	course *player.Course
	at     time.Duration
}

func (p *practised) Keep(k practice.Kept) { p.kept = append(p.kept, k) }

func (p *practised) Judge(ended time.Time, by [2]bool) {
	for i := range p.kept {
		if p.kept[i].At.Equal(ended) {
			p.kept[i].Judged = by
		}
	}
}

// practises dances a loop over and over, or with an empty one the routine once.
func practises(t *testing.T, loop func(*player.Timeline) player.Interval) *practised {
	timeline, found := rehearsal.Read(rehearsal.Boathouse)
	require.NotNil(t, timeline, "%v", found)
	set := player.DefaultSettings()
	set.LeadIn = 0
	if loop != nil {
		set.Loop = loop(timeline)
	}
	p := &practised{t: t, course: player.NewCourse(rehearsal.Rate, player.Sounds{}, timeline, set).Start(0, timeline, timeline.Start, set)}
	p.book.Keeper = p
	return p
}

func (p *practised) time() time.Time       { return time.Unix(0, 0).Add(p.at) }
func (p *practised) moment() player.Moment { return p.course.At(float64(p.at.Milliseconds())) }

// until dances on to a time from the start.
func (p *practised) until(at time.Duration) {
	for ; p.at < at; p.at += 100 * time.Millisecond {
		p.book.Follow(p.moment(), p.time(), routine.Both)
	}
}

func (p *practised) mark(by ...routine.Partner) string {
	return p.book.Mark(p.time(), p.moment().Beat, by...)
}

const beats = rehearsal.Beat

func figure(i int) func(*player.Timeline) player.Interval {
	return func(t *player.Timeline) player.Interval { return t.Passage(i) }
}

func TestNothingIsMarkedBeforeAnythingIsDanced(t *testing.T) {
	p := practises(t, nil)
	assert.Empty(t, p.mark(routine.Leader))
	assert.Empty(t, p.book.TakeBack())
	assert.Empty(t, p.book.Ticks())
	assert.Nil(t, p.book.Judge(nil, routine.Both))
	assert.False(t, p.book.Good(0))
}

func TestAMarkIsTakenBack(t *testing.T) {
	p := practises(t, nil)
	p.until(2 * beats)
	assert.Equal(t, "Lantern step", p.mark(routine.Leader))
	p.until(6 * beats)
	assert.Equal(t, "Lantern step (and the join to Lantern step)", p.mark(routine.Leader, routine.Follower))
	assert.Equal(t, "Lantern step (and the join to Lantern step)", p.book.TakeBack())
	p.until(40 * beats)
	p.book.Keep()
	require.Len(t, p.kept, 1)
	assert.Equal(t, []practice.Mark{{Place: 0, Partner: routine.Leader}}, p.kept[0].Marks, "the first mark stays")
	assert.Empty(t, p.book.TakeBack(), "what is kept stays kept")
}

// TestTheListIsTickedAtTheEnd, and a couple that has stopped has all the time it needs.
func TestTheListIsTickedAtTheEnd(t *testing.T) {
	p := practises(t, nil)
	p.until(2 * beats)
	p.mark(routine.Follower)
	p.until(60 * beats) // the routine has 30 or so
	assert.Empty(t, p.kept, "it waits for the dancers")
	require.True(t, p.book.Waits())

	list := p.book.Ticks()
	var names []string
	for _, tick := range list {
		names = append(names, tick.Name)
	}
	assert.Equal(t, []string{"Lantern step", "Lantern step into Lantern step", "Lantern step", "Lantern step into Oar turn", "Oar turn", "Oar turn into Lantern step", "Lantern step"}, names)
	assert.Equal(t, [2]bool{false, true}, list[0].Wrong)
	list[0].Wrong = [2]bool{}
	list[3].Wrong = [2]bool{true, false}
	kept := p.book.Judge(list, routine.FollowerAlone)
	require.NotNil(t, kept)
	assert.Equal(t, []practice.Mark{{Place: 2, Join: true, Partner: routine.Leader}}, kept.Marks)
	assert.True(t, kept.Finished)
	assert.Equal(t, [2]bool{false, true}, kept.Judged, "only the follower saw the list")
	assert.Equal(t, []practice.Kept{*kept}, p.kept)
	assert.False(t, p.book.Waits())
}

func TestARunThroughIsKeptInTheNext(t *testing.T) {
	p := practises(t, figure(0))
	p.until(8*beats + 500*time.Millisecond)
	assert.Empty(t, p.kept)
	assert.Equal(t, "Lantern step", p.mark(routine.Leader), "what is marked at once is the end of the one before")
	timeline := p.moment().Timeline
	at, percent, ok := p.book.Worst(timeline)
	assert.True(t, ok)
	assert.Equal(t, practice.Place{Passage: 0}, at)
	assert.InDelta(t, 100, percent, 1e-9)

	p.until(8*beats + 2500*time.Millisecond)
	require.Len(t, p.kept, 1)
	assert.Equal(t, []practice.Mark{{Place: 0, Partner: routine.Leader}}, p.kept[0].Marks)
}

func TestAClassIsNotKept(t *testing.T) {
	p := practises(t, figure(0))
	p.book.Pausing = true
	p.until(30 * beats)
	p.book.Stop(p.time())
	assert.NotNil(t, p.book.Keep(), "the dance is followed all the same")
	assert.Empty(t, p.kept)
}

func TestStopEndsWhatIsDanced(t *testing.T) {
	p := practises(t, nil)
	p.until(6 * beats)
	p.book.Stop(p.time())
	require.True(t, p.book.Waits())
	assert.Len(t, p.book.Ticks(), 1, "only what was begun is on the list")
	p.book.Keep()
	require.Len(t, p.kept, 1)
	assert.False(t, p.kept[0].Finished)
}

// TestWhoOnlyWatchesJudgesNothing: neither a run-through heard to its end nor one that was left.
func TestWhoOnlyWatchesJudgesNothing(t *testing.T) {
	p := practises(t, figure(0))
	p.until(20 * beats) // two of them, and half a third
	p.book.Stop(p.time())
	p.book.Keep()
	require.Len(t, p.kept, 3)
	for _, k := range p.kept {
		assert.Zero(t, k.Judged)
		assert.False(t, k.Clean(routine.Leader))
	}
}

// TestCleanIsSaidOfAllRunThroughs of an exercise or, with a mark in the last, of that alone.
func TestCleanIsSaidOfAllRunThroughs(t *testing.T) {
	for _, marked := range []bool{false, true} {
		p := practises(t, figure(0)) // eight beats
		var all []*practice.RunThrough
		for ; p.at < 17*beats; p.at += 100 * time.Millisecond {
			if ended, _ := p.book.Follow(p.moment(), p.time(), routine.LeaderAlone); ended != nil {
				all = append(all, ended)
			}
		}
		require.Len(t, all, 2)
		require.Len(t, p.kept, 1, "the last waits")
		if marked {
			p.book.MarkLast(practice.Place{}, routine.Leader)
		}
		p.book.Clean(all)
		p.until(20 * beats)
		p.book.Stop(p.time())
		p.book.Keep()
		require.Len(t, p.kept, 3)
		for i, want := range [3]bool{!marked, true, false} {
			assert.Equal(t, [2]bool{want, false}, p.kept[i].Judged, "marked: %t, run-through %d", marked, i)
		}
	}
}

// TestGood judges the run-through that has just ended or, from its middle on, the one that is danced.
func TestGood(t *testing.T) {
	for name, c := range map[string]struct {
		at   time.Duration
		good bool
		want [3]bool
	}{
		"at first":        {2 * beats, false, [3]bool{}},
		"near the end":    {6 * beats, true, [3]bool{true, false, false}},
		"just afterwards": {8*beats + 800*time.Millisecond, true, [3]bool{true, false, false}},
		"in the second":   {14 * beats, true, [3]bool{false, true, false}},
	} {
		p := practises(t, figure(0)) // eight beats
		p.until(c.at)
		assert.Equal(t, c.good, p.book.Good(p.moment().Beat), name)
		p.until(20 * beats)
		p.book.Stop(p.time())
		p.book.Keep()
		require.Len(t, p.kept, 3, name)
		for i, k := range p.kept {
			assert.Equal(t, [2]bool{c.want[i], c.want[i]}, k.Judged, "%s: run-through %d", name, i)
		}
	}
}
