package choreography_test

import (
	"cmp"
	"fmt"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/library"
	"dance.example/slowquick/library/check"
	"dance.example/slowquick/library/choreography"
	"dance.example/slowquick/routine"
	"dance.example/slowquick/routine/floor"
	"dance.example/slowquick/testdata/thorough"
)

// composed is what a teacher would look at first in a routine.
type composed struct {
	routines, corners, unfilled int
	returned                    []float64 // the shares that come back, where there are 16 bars and more
	share                       float64   // the most that one figure takes
	against                     float64   // the furthest that a figure goes against the line of dance, in centimetres
	astray                      string    // that figure
	score                       int       // the least
	faults                      int       // routines that a teacher would build otherwise
	took                        time.Duration
}

// TestComposedRoutines: whatever the seed, the level and the length, a routine passes every check without
// a warning. It opens as the dance usually does, comes back to what was danced, gives no figure more than its
// share, keeps sets together, and takes a corner if it is long enough.
// ROUTINES is the number of routines for each dance; it is 40 if THOROUGH is set, else 2.
func TestComposedRoutines(t *testing.T) {
	routines := 2
	if thorough.Asked() {
		routines = 40
	}
	if text := os.Getenv("ROUTINES"); text != "" {
		var err error
		routines, err = strconv.Atoi(text)
		require.NoError(t, err)
	}
	lib, all := chapters(t)
	table := make([]composed, len(all))
	t.Run("all", func(t *testing.T) {
		for i, c := range all {
			t.Run(c.Dance.Name, func(t *testing.T) {
				t.Parallel()
				table[i] = composeAll(t, lib, c, routines)
			})
		}
	})
	t.Logf("%-16s %8s %8s %8s %8s %15s %8s %8s %8s %9s", "dance", "routines", "unfilled", "faults", "corners", "returns, median", "share", "against", "score", "each")
	for i, c := range all {
		row := table[i]
		slices.Sort(row.returned)
		least, median := 1.0, 1.0
		if n := len(row.returned); n > 0 {
			least, median = row.returned[0], row.returned[n/2]
		}
		each := row.took / time.Duration(routines)
		t.Logf("%-16s %8d %8d %8d %8d %6.0f%% %6.0f%% %8.0f%% %5.0f cm %8d %9v  %s", c.Dance.Name, row.routines, row.unfilled, row.faults, row.corners, 100*least, 100*median, 100*row.share, row.against, row.score, each.Round(time.Millisecond), row.astray)
	}
}

func composeAll(t *testing.T, lib *library.Library, c *library.Chapter, routines int) composed {
	sum := composed{score: 100}
	kinds := map[string]bool{}
	for n := range routines {
		w := choreography.Wish{Bars: 8 + 4*(n*7%15), Level: 1 + n%2, Seed: uint64(n)}
		if n%4 == 1 || n%4 == 2 {
			w.Floor = routine.Room{Along: 1200, Across: 800}
		}
		begun := time.Now()
		r, err := choreography.Compose(c.Dance, c.Figures, w)
		sum.took += time.Since(begun)
		if err != nil && (c.Dance.Travels || !canFill(c, w)) { // or there is no way round the room
			sum.unfilled++
			continue
		}
		at := fmt.Sprintf("%s, %d bars, level %d, seed %d, floor %s", c.Dance.Name, w.Bars, w.Level, w.Seed, w.Floor)
		require.NoError(t, err, at)
		text := r.Sheet(c.Dance, w)
		at += "\n" + string(text)
		score, found := check.Sheet("composed.md", text, lib)
		require.Empty(t, found, at)
		require.Equal(t, routine.Beats(w.Bars)*c.Dance.Metre.Bar(), score.End-score.Start, at)
		sum.add(t, at, c, score, r)
		kinds[string(text)] = true
	}
	if c.Dance.Travels {
		assert.LessOrEqual(t, sum.unfilled, routines/5)
	}
	assert.Zero(t, sum.faults, "routines that a teacher would build otherwise")
	assert.GreaterOrEqual(t, len(kinds), (routines-sum.unfilled)*3/4, "different routines")
	return sum
}

// canFill reports whether any order of figures fills the bars of a wish, feet, hold and counts agreeing,
// wherever the couple is on the floor.
func canFill(c *library.Chapter, w choreography.Wish) bool {
	type place struct {
		at   routine.Outcome
		left routine.Beats
	}
	known := map[place]bool{}
	var fills func(place) bool
	fills = func(from place) bool {
		if can, ok := known[from]; ok || from.left <= 0 {
			return can || from.left == 0
		}
		can := slices.ContainsFunc(choreography.UpTo(w.Level, c.Figures), func(fig *routine.Figure) bool {
			to, takes, parted := from.at.Then(c.Dance, fig)
			return len(parted) == 0 && takes > 0 && fills(place{to, from.left - takes})
		})
		known[from] = can
		return can
	}
	return fills(place{left: routine.Beats(w.Bars) * c.Dance.Metre.Bar()})
}

func (sum *composed) add(t *testing.T, at string, c *library.Chapter, score *routine.Score, r *choreography.Routine) {
	sum.routines++
	sum.score = min(sum.score, r.Score.Sum())
	faults := alone(score)
	if !opensUsually(c, &score.Passages[0]) {
		faults = append(faults, "opens in another hold")
	}

	if r.Again && !meetsAgain(score) {
		faults = append(faults, "can't be danced again at once")
	}

	taken, last := map[string]routine.Beats{}, map[string]int{}
	var returned routine.Beats
	run := 0
	short := score.End-score.Start <= routine.Beats(c.Dance.PhraseBars)*c.Dance.Metre.Bar() // repeats count too
	for i := range score.Passages {
		p := &score.Passages[i]
		name := p.Figure.Name
		if before := &score.Passages[max(0, i-1)]; before.Figure.Name == name && before.To == p.From && before.Corners == p.Corners {
			faults = append(faults, "in two parts: "+name)
		}
		if i == 0 || score.Passages[i-1].Figure.Name != name {
			run++
		}
		if met, ok := last[name]; ok && (met < run || short) {
			returned += p.End - p.Start
		} else {
			last[name] = run
		}
		taken[name] += p.End - p.Start
	}
	all := score.End - score.Start
	back := returned.Float() / all.Float()
	if all >= 16*c.Dance.Metre.Bar() {
		sum.returned = append(sum.returned, back)
	}
	if roams(c.Dance) && score.Floor != (routine.Room{}) && all >= 32*c.Dance.Metre.Bar() && score.Passages[len(score.Passages)-1].Corners == 0 {
		faults = append(faults, "no corner")
	}
	if back < 0.25 {
		faults = append(faults, "little comes back")
	}
	for name, beats := range taken {
		share := beats.Float() / all.Float()
		figs, ok := c.Named(name)
		require.True(t, ok, name)
		if share > 0.5 && beats > 2*figs[0].Length(0, len(figs[0].Rows)) {
			faults = append(faults, "too much of "+name)
		}
		sum.share = max(sum.share, share)
	}
	faults = append(faults, sum.goesRound(score)...)
	if len(faults) > 0 {
		sum.faults++
		t.Log(faults, at)
	}
}

// roams reports whether a dance goes round the room. Samba and paso doble may stay where they are.
func roams(d *routine.Dance) bool {
	return d.Travels && (d.UsualStart == nil || d.UsualStart.To != routine.Wall)
}

// opensUsually reports whether a routine opens as one of its dance's sequences does or, if it has none, in the hold
// of its easiest figure.
func opensUsually(c *library.Chapter, first *routine.Passage) bool {
	hold := cmp.Or(c.Figures[0].Starts.Positions, 1<<routine.Closed)
	return !first.Begins.Positions.Has(routine.Promenade) && (first.Begins.Positions&hold != 0 ||
		slices.ContainsFunc(c.Dance.Sequences, func(names []string) bool { return names[0] == first.Figure.Name }))
}

// meetsAgain reports whether the partners meet when a score begins again after its end.
func meetsAgain(score *routine.Score) bool {
	var items []routine.Item
	for _, p := range []*routine.Passage{&score.Passages[len(score.Passages)-1], &score.Passages[0]} {
		item := routine.Whole(p.Figure)
		item.From, item.To = p.From, p.To
		items = append(items, item)
	}
	items[0].Corner = score.Items[score.Passages[len(score.Passages)-1].Item].Corner
	again, found := routine.InOrder(score.Dance, nil, items...)
	return len(codes(append(found, floor.Check(again, found)...))) == 0
}

// goesRound looks at how a routine goes round the room, and returns figures that go more than half a metre against
// the line of dance although their charts don't say which way they go. A box that turns may come back.
func (sum *composed) goesRound(score *routine.Score) (faults []string) {
	if !score.Dance.Travels {
		return nil
	}
	path := floor.Trace(score)
	way := 0.0 // of a figure, danced once or several times
	for i := range score.Passages {
		p := &score.Passages[i]
		couples := path.Passage(i)
		by := couples[len(couples)-1].Middle()
		way += by.Minus(couples[0].Middle()).Turned(routine.CornerTurn * routine.Turn(p.Corners)).X
		if i+1 < len(score.Passages) && score.Passages[i+1].Name() == p.Name() && score.Passages[i+1].Corners == p.Corners {
			continue
		}
		if way < -50 && roams(score.Dance) && p.Figure.Starts.Facing[routine.Leader].Stand == routine.NoStand {
			faults = append(faults, fmt.Sprintf("%s goes %.0f cm against the line of dance", p.Name(), -way))
		}
		if -way > sum.against {
			sum.against, sum.astray = -way, p.Name()
		}
		way = 0
	}
	if score.Passages[len(score.Passages)-1].Corners > 0 {
		sum.corners++
	}
	return faults
}

// alone returns the figures danced to one side only that call for the other.
func alone(score *routine.Score) (names []string) {
	side := func(name string) (base, side string) {
		for _, side := range []string{"left", "right"} {
			if strings.Contains(strings.ToLower(name), side) {
				return strings.ReplaceAll(strings.ToLower(name), side, "…"), side
			}
		}
		return name, ""
	}
	other := func(i, j int) bool {
		if j < 0 || j >= len(score.Passages) {
			return false
		}
		a, sideA := side(score.Passages[i].Figure.Name)
		b, sideB := side(score.Passages[j].Figure.Name)
		return a == b && sideA != sideB
	}
	for i := range score.Passages {
		name := score.Passages[i].Figure.Name
		if slices.ContainsFunc([]string{"New York", "Shoulder to shoulder", "Hand to hand", "Cucaracha", "Side walk", "Whisk to the left", "Side basic to"}, func(set string) bool { return strings.HasPrefix(name, set) && !strings.Contains(name, "underarm") }) &&
			!other(i, i-1) && !other(i, i+1) {
			names = append(names, name)
		}
	}
	return names
}

// TestRoutinesHardToFill: where only a few orders fill the bars, a routine is still as a teacher would have it: it
// comes round a corner of the room, never goes back up it, and opens as the dance usually does.
func TestRoutinesHardToFill(t *testing.T) {
	lib := library.Open()
	room := routine.Room{Along: 1200, Across: 800}
	for _, test := range []struct {
		dance string
		wish  choreography.Wish
	}{
		{"argentine tango", choreography.Wish{Bars: 48, Level: 1, Seed: 10, Floor: room}},
		{"argentine tango", choreography.Wish{Bars: 32, Level: 2, Seed: 33, Floor: room}},
		{"social foxtrot", choreography.Wish{Bars: 16, Level: 1, Seed: 26, Floor: room}},
		{"waltz", choreography.Wish{Bars: 32, Level: 2, Seed: 33, Floor: room}},
		{"west coast swing", choreography.Wish{Bars: 36, Level: 1, Seed: 16}},
		{"west coast swing", choreography.Wish{Bars: 60, Level: 2, Seed: 19}},
	} {
		c, ok := lib.Chapter(test.dance)
		require.True(t, ok)
		r, err := choreography.Compose(c.Dance, c.Figures, test.wish)
		require.NoError(t, err)
		text := r.Sheet(c.Dance, test.wish)
		score, found := check.Sheet("composed.md", text, lib)
		require.Empty(t, found, "%s", text)
		var sum composed
		sum.add(t, string(text), c, score, r)
		assert.Zero(t, sum.faults, "%s", text)
	}
}

// TestSeedsMakeDifferentRoutines: so they do where beginners have figures to choose from.
func TestSeedsMakeDifferentRoutines(t *testing.T) {
	lib := library.Open()
	for _, dance := range []string{"waltz", "quickstep"} {
		c, ok := lib.Chapter(dance)
		require.True(t, ok)
		kinds := map[string]bool{}
		for seed := range uint64(8) {
			w := choreography.Wish{Bars: 16, Level: 1, Seed: seed}
			r, err := choreography.Compose(c.Dance, c.Figures, w)
			require.NoError(t, err)
			kinds[string(r.Sheet(c.Dance, w))] = true
		}
		assert.Greater(t, len(kinds), 2, dance)
	}
}

// TestWishedFigures: a routine has the figures that were wished for and as many new ones as were asked
// for; all others are known.
func TestWishedFigures(t *testing.T) {
	c, ok := library.Open().Chapter("rumba")
	require.True(t, ok)
	named := func(names ...string) []*routine.Figure {
		figs, ok := c.Named(names...)
		require.True(t, ok)
		return figs
	}
	w := choreography.Wish{Bars: 16, Level: 1, With: named("fan", "natural opening out")} // the second is of level 2
	for w.Seed = range 5 {
		r, err := choreography.Compose(c.Dance, c.Figures, w)
		require.NoError(t, err)
		assert.Subset(t, figuresOf(r), w.With)
	}
	w = choreography.Wish{Bars: 16, Level: 1, New: 2, Known: named("closed basic", "forward half of the closed basic", "new york to the left side", "new york to the right side", "spot turn to the left")}
	for w.Seed = range 5 {
		r, err := choreography.Compose(c.Dance, c.Figures, w)
		require.NoError(t, err)
		others := 0
		for _, fig := range figuresOf(r) {
			if !slices.Contains(w.Known, fig) {
				others++
			}
		}
		assert.Equal(t, w.New, others, "seed %d: %s", w.Seed, r.Sheet(c.Dance, w))
	}
}

// TestARoutineKeepsToOneFamily: that of its wish, else that of most of the dance's figures; what belongs to none goes with it.
func TestARoutineKeepsToOneFamily(t *testing.T) {
	for _, test := range []struct {
		dance  string
		wished routine.Family
		family routine.Family
	}{
		{"waltz", routine.AnyFamily, routine.International},
		{"waltz", routine.American, routine.American},
		{"tango", routine.AnyFamily, routine.International},
		{"viennese waltz", routine.AnyFamily, routine.American},
	} {
		c, ok := library.Open().Chapter(test.dance)
		require.True(t, ok)
		kinds := map[routine.Family]bool{}
		for seed := range uint64(6) {
			r, err := choreography.Compose(c.Dance, c.Figures, choreography.Wish{Bars: 16, Level: 2, Seed: seed, Family: test.wished})
			require.NoError(t, err)
			for _, fig := range figuresOf(r) {
				kinds[fig.Family] = true
			}
		}
		delete(kinds, routine.AnyFamily)
		assert.Equal(t, map[routine.Family]bool{test.family: true}, kinds, test.dance)
	}
}

func figuresOf(r *choreography.Routine) (figs []*routine.Figure) {
	for _, item := range r.Items {
		if !slices.Contains(figs, item.Figure) {
			figs = append(figs, item.Figure)
		}
	}
	return figs
}

// TestLessons: a lesson warms up, dances its figure more than once before the routine does, and passes
// every check from beginning to end.
func TestLessons(t *testing.T) {
	lib, all := chapters(t)
	made := 0
	for _, c := range all {
		w := choreography.Wish{Level: 2, Seed: 1}
		w.Bars = choreography.UsualBars(c.Dance, c.Figures, w)
		r, err := choreography.Compose(c.Dance, c.Figures, w)
		require.NoError(t, err, c.Dance.Name)
		l := r.Lesson(c.Dance, c.Figures, w)
		text := string(l.Sheet(c.Dance))
		_, found := check.Sheet("lesson.md", []byte(text), lib)
		require.Empty(t, found, text)
		assert.Contains(t, text, "\n### The routine\n")
		if l.Steps == nil {
			continue
		}
		made++
		assert.Contains(t, text, "\n### Warm-up\n")
		_, steps, _ := strings.Cut(text, "\n### Step by step\n")
		steps, _, _ = strings.Cut(steps, "\n### ")
		assert.True(t, strings.Contains(steps, l.Figure.Name+" × ") || strings.Count(steps, l.Figure.Name) > 1, text)
	}
	assert.GreaterOrEqual(t, made, len(all)-2)
}

// TestWhy: what is said of a routine is true of it.
func TestWhy(t *testing.T) {
	c, ok := library.Open().Chapter("cha-cha")
	require.True(t, ok)
	r, err := choreography.Compose(c.Dance, c.Figures, choreography.Wish{Bars: 16, Level: 1})
	require.NoError(t, err)
	why := strings.Join(r.Why(c.Dance), "\n")
	assert.Contains(t, why, "Its form is A B A C: the theme, bars 1–4, comes back in bars 9–12")
	assert.Contains(t, why, "It opens with "+r.Items[0].Name+", in closed hold, with the leader's LF.")
	assert.Contains(t, why, "make a set (bar")
	assert.NotContains(t, why, "corners")
	assert.NotEmpty(t, r.Score)
	for _, m := range r.Score {
		assert.True(t, 0 <= m.Points && m.Points <= 10, "%v", m)
	}
}

// TestSequencesAreDanced: each sequence of a dance's chapter can be danced as it stands.
func TestSequencesAreDanced(t *testing.T) {
	_, all := chapters(t)
	sequences := 0
	for _, c := range all {
		for _, names := range c.Dance.Sequences {
			var items []routine.Item
			for _, name := range names {
				for _, fig := range c.Figures {
					if from, to, ok := fig.Named(name); ok {
						item := routine.Whole(fig)
						item.From, item.To = from, to
						items = append(items, item)
						break
					}
				}
			}
			require.Len(t, items, len(names), "%s: %v", c.Dance.Name, names)
			score, found := routine.InOrder(c.Dance, nil, items...)
			assert.Empty(t, codes(append(found, floor.Check(score, found)...)), "%s: %v", c.Dance.Name, names)
			sequences++
		}
	}
	assert.Greater(t, sequences, 30)
}

// TestPartsThatComeBackAreWrittenOnce: a routine opens as the most usual sequence of its dance does, and its
// sheet names its parts.
func TestPartsThatComeBackAreWrittenOnce(t *testing.T) {
	c, ok := library.Open().Chapter("waltz")
	require.True(t, ok)
	once := 0
	for seed := range uint64(4) {
		w := choreography.Wish{Bars: 32, Level: 1, Seed: seed}
		r, err := choreography.Compose(c.Dance, c.Figures, w)
		require.NoError(t, err)
		_, _, opens := r.Items[0].Figure.Named(c.Dance.Sequences[0][0])
		assert.True(t, opens, r.Items[0].Name)
		if text := string(r.Sheet(c.Dance, w)); strings.Count(text, ". Part A\n") > 1 {
			assert.Equal(t, 1, strings.Count(text, "### Part A\n"), text)
			once++
		}
	}
	assert.Positive(t, once)
}

// TestFiguresThatDontFillPhrases: figures of six beats have phrases of the bars that they fill, and fill no others.
func TestFiguresThatDontFillPhrases(t *testing.T) {
	c, ok := library.Open().Chapter("triple swing")
	require.True(t, ok)
	r, err := choreography.Compose(c.Dance, c.Figures, choreography.Wish{Bars: 24})
	require.NoError(t, err)
	assert.Equal(t, 6, r.Phrase)
	_, err = choreography.Compose(c.Dance, c.Figures, choreography.Wish{Bars: 16})
	assert.ErrorIs(t, err, choreography.ErrNone)
	assert.ErrorContains(t, err, "multiples of 3 bars")
	assert.Equal(t, []int{15, 18}, choreography.BarsNear(c.Dance, c.Figures, choreography.Wish{Bars: 16}))
}

// mark returns the points of a routine for one thing.
func mark(t *testing.T, r *choreography.Routine, of string) int {
	i := slices.IndexFunc(r.Score, func(m choreography.Mark) bool { return m.Of == of })
	require.GreaterOrEqual(t, i, 0, "%s: %v", of, r.Score)
	return r.Score[i].Points
}

// TestThemesComeBackWhereFiguresCrossPhrases: so they do in the jive, whose figures of six beats, without the chassés that
// fill a bar, seldom end with a phrase.
func TestThemesComeBackWhereFiguresCrossPhrases(t *testing.T) {
	c, ok := library.Open().Chapter("jive")
	require.True(t, ok)
	crossing := 0
	figs := slices.DeleteFunc(slices.Clone(c.Figures), func(f *routine.Figure) bool { return f.Name == "Chassés to both sides" })
	for seed := range uint64(6) {
		r, err := choreography.Compose(c.Dance, figs, choreography.Wish{Bars: 24, Level: 1, Seed: seed})
		require.NoError(t, err)
		if r.Phrase == 0 {
			assert.GreaterOrEqual(t, mark(t, r, "theme"), 5, "%s", r.Sheet(c.Dance, choreography.Wish{Bars: 24}))
			crossing++
		}
	}
	assert.Positive(t, crossing)
}

// TestFiguresOfLessThanABar: where most figures take less than a bar, they are not there to link others.
func TestFiguresOfLessThanABar(t *testing.T) {
	c, ok := library.Open().Chapter("hustle")
	require.True(t, ok)
	r, err := choreography.Compose(c.Dance, c.Figures, choreography.Wish{Bars: 24})
	require.NoError(t, err)
	assert.GreaterOrEqual(t, mark(t, r, "ease"), 8)
}

// TestUsualFiguresAreMostOfARoutine: most of a routine is figures that the dance's sequences name, round the room too.
func TestUsualFiguresAreMostOfARoutine(t *testing.T) {
	c, ok := library.Open().Chapter("waltz")
	require.True(t, ok)
	names := slices.Concat(c.Dance.Sequences...)
	var usual, all routine.Beats
	for seed := range uint64(4) {
		w := choreography.Wish{Bars: 32, Level: 1 + int(seed%2), Seed: seed, Floor: routine.Room{Along: 1200, Across: 800}}
		r, err := choreography.Compose(c.Dance, c.Figures, w)
		require.NoError(t, err)
		for _, item := range r.Items {
			beats := item.Figure.Length(item.From, item.To)
			all += beats
			if slices.ContainsFunc(names, func(name string) bool { _, _, ok := item.Figure.Named(name); return ok }) {
				usual += beats
			}
		}
	}
	assert.Greater(t, usual.Float()/all.Float(), 0.7)
}

// TestCornersAreASideApart: no two corners are taken within two bars, which is no side of a room.
func TestCornersAreASideApart(t *testing.T) {
	lib := library.Open()
	c, ok := lib.Chapter("foxtrot")
	require.True(t, ok)
	for seed := range uint64(2) {
		w := choreography.Wish{Bars: 32, Level: 2, Seed: seed, Floor: routine.Room{Along: 1200, Across: 800}}
		r, err := choreography.Compose(c.Dance, c.Figures, w)
		require.NoError(t, err)
		score, _ := check.Sheet("composed.md", r.Sheet(c.Dance, w), lib)
		var last routine.Beats
		for i := 1; i < len(score.Passages); i++ {
			if p := &score.Passages[i]; p.Corners > score.Passages[i-1].Corners {
				assert.GreaterOrEqual(t, p.Start-last, 2*c.Dance.Metre.Bar(), "%s", r.Sheet(c.Dance, w))
				last = p.Start
			}
		}
		assert.Positive(t, last, "%s", r.Sheet(c.Dance, w))
	}
}
