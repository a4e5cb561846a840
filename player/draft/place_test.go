package draft_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"dance.example/slowquick/library/check"
	"dance.example/slowquick/player/draft"
	"dance.example/slowquick/player/sheets"
	"dance.example/slowquick/routine"
)

// opened returns the draft of a cha-cha whose order is given.
func opened(t require.TestingT, order string) draft.Draft {
	d, err := draft.Open(shelf(), sheets.Document{Name: "quay.md", Text: []byte("---\ndance: cha-cha\n---\n\n## Order\n\n" + order)})
	require.NoError(t, err)
	return d
}

// inParts is an order whose last list names its parts; its lines are 0 to 6.
const inParts = "### Part A\n1) Closed basic\n2) Closed basic\n\n### Part B\n1. New York to the left side\n2. Spot turn to the left\n\n### All of it\n- Part A x 2\n- Part B\n- Part A\n"

// TestLinesThatNameAPartAreDanced: they begin in a bar, and end where the part does.
func TestLinesThatNameAPartAreDanced(t *testing.T) {
	for order, want := range map[string][]int{
		inParts: {1, 3, 9, 10, 1, 9, 11},
		"1. Part A\n2. Fan\n\n### Part A\n1. Closed basic\n2. Forward half of the closed basic\n": {1, 4, 1, 3},
		"1. Closed basic\n2. From the top × 2\n3. Repeat 1 to 2\n4. Closed basic\n":               {1, 3, 7, 25},
		"1. Closed basic\n\n### Part B\n1. Nothing of that name\n2. Closed basic\n":               {1, 0, 3},
	} {
		d := opened(t, order)
		var bars []int
		for line := range d.Order.Len() {
			bars = append(bars, d.Bar(line))
		}
		assert.Equal(t, want, bars, order)
	}
	d := opened(t, inParts)
	assert.Equal(t, d.Passage(1), d.Passage(6))
	assert.Equal(t, 3, d.Passage(4))
}

// TestWhatFollowsAPart begins as the part ends, wherever it is danced.
func TestWhatFollowsAPart(t *testing.T) {
	d := opened(t, "1. Part A × 2\n\n### Part A\n1. Closed basic\n2. New York to the left side\n3. Spot turn to the left\n")
	why := func(line int, name string) (why, apart string) {
		for _, n := range d.Next(line) {
			if n.Figure.Name == name && n.Named == "" {
				return n.Why, n.Apart
			}
		}
		return "unknown", ""
	}
	for _, line := range []int{0, 3} {
		cannot, _ := why(line, "Back half of the closed basic")
		assert.Contains(t, cannot, "the leader's LF is free", "the spot turn ends on RF")
		cannot, _ = why(line, "Closed basic")
		assert.Empty(t, cannot)
	}
	_, apart := why(3, "Forward half of the closed basic")
	assert.Contains(t, apart, "RF is free", "the part is danced once more after it")
	_, apart = why(0, "Forward half of the closed basic")
	assert.Empty(t, apart)
}

// TestLinksLookAtTheJoinThatIsAmiss, which is before the line that is marked wrong, and say why there are
// none.
func TestLinksLookAtTheJoinThatIsAmiss(t *testing.T) {
	for _, tt := range []struct {
		name, order string
		line        int
		after       int    // the line after which the first offer goes
		offer       string // its first line
		none        string
	}{
		{"before", "1. Closed basic\n2. Spot turn to the left\n3. Spot turn to the right\n", 1, 0, "Forward half of the closed basic", ""},
		{"after", "1. Closed basic\n2. Spot turn to the left\n3. Spot turn to the right\n", 0, 0, "Forward half of the closed basic", ""},
		{"before a part", "1. Closed basic\n2. Part B\n\n### Part B\n1. Spot turn to the left\n", 2, 0, "Forward half of the closed basic", ""},
		{"nothing is missing", "1. Closed basic\n2. Closed basic\n", 0, 0, "", "nothing is missing: Closed basic can follow Closed basic"},
		{"the end", "1. Closed basic\n2. Closed basic\n", 1, 0, "", "nothing comes after this line yet"},
		{"the start", "1. Closed basic\n", -1, 0, "", "nothing comes before the first line"},
		{"itself", "1. New York to the left side × 2\n", 0, 0, "", "New York to the left side can't follow itself: write it in two lines to put something between"},
		{"unknown", "1. Closed basic\n2. Nothing of that name\n3. Closed basic\n", 0, 0, "", "it isn't known how Nothing of that name begins"},
		{"after unknown", "1. Closed basic\n2. Nothing of that name\n3. Closed basic\n", 1, 0, "", "it isn't known how Nothing of that name ends"},
		{"not danced", "1. Part A\n2. Part A\n\n### Part A\n1. Part B\n\n### Part B\n1. Part A\n", 2, 0, "", "this line isn't danced"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			d := opened(t, tt.order)
			offers, says := d.Links(tt.line)
			if tt.offer == "" {
				assert.Empty(t, offers)
				assert.Equal(t, tt.none, says)
				return
			}
			require.NotEmpty(t, offers, says)
			assert.Equal(t, tt.after, offers[0].After)
			assert.Equal(t, tt.offer, offers[0].Lines[0].Name)
			assert.Contains(t, says, "between ")
			text, err := d.Put(offers[0])
			require.NoError(t, err)
			next, err := d.Change(text, tt.line+1)
			require.NoError(t, err)
			lines, _ := next.Objections()
			assert.Empty(t, lines[tt.line+1], "%s", text)
		})
	}
}

// TestAnotherFamilyIsOfferedLast, with the figure that it doesn't go with, and never suggested.
func TestAnotherFamilyIsOfferedLast(t *testing.T) {
	for dance, first := range map[string]string{"salsa": "Basic on 2", "rumba": "American rumba box"} {
		d, err := draft.New(shelf(), danceOf(t, dance), "Quay", routine.Room{})
		require.NoError(t, err)
		for _, n := range d.Next(-1) {
			assert.Empty(t, n.Mixes, "nothing is danced yet")
		}
		d = changed(t, d, first)
		_, elsewhere := d.Objections()
		require.Empty(t, elsewhere)
		mixing := 0
		for _, n := range d.Next(0) {
			if n.Why != "" {
				break
			}
			lines, _ := changed(t, d, n.Figure.Name).Objections()
			mixed := slices.ContainsFunc(lines[1], func(f routine.Finding) bool { return f.Code == "mixed-families" })
			assert.Equal(t, mixed, n.Mixes != "", n.Figure.Name)
			if mixed {
				mixing++
			}
			assert.True(t, mixed || mixing == 0, "%s comes before those that mix", n.Figure.Name)
		}
		assert.Equal(t, dance == "salsa", mixing > 0, "a rumba of the other family begins on another count")
		for _, offer := range d.Suggest(0) {
			text, err := d.Put(offer)
			require.NoError(t, err)
			_, found := check.Sheet("quay.md", text, book)
			assert.False(t, slices.ContainsFunc(found, func(f routine.Finding) bool { return f.Code == "mixed-families" }), "%s", text)
		}
	}
}

// TestSuggestionsKnowTheFiguresOfTheOrder, though they have no level.
func TestSuggestionsKnowTheFiguresOfTheOrder(t *testing.T) {
	const own = "\n## Lantern sway\n\n- starts: closed, leader LF free, follower RF free\n- ends: closed\n\n| Count | Leader | Follower |\n|---|---|---|\n| 1 | LF side | RF side |\n| 2-3 | RF replace | LF replace |\n"
	open := func(order string) draft.Draft {
		d, err := draft.Open(shelf(), sheets.Document{Name: "quay.md", Text: []byte("---\ndance: waltz\n---\n\n## Order\n\n" + order + own)})
		require.NoError(t, err)
		return d
	}
	suggested := func(d draft.Draft) bool {
		return slices.ContainsFunc(d.Suggest(d.Order.Len()-1), func(o draft.Offer) bool {
			return slices.ContainsFunc(o.Lines, func(l routine.Line) bool { return l.Name == "Lantern sway" })
		})
	}
	assert.False(t, suggested(open("1. Box step\n2. Box step\n3. Box step\n4. LF closed change\n5. RF closed change\n")), "a figure that nobody has danced")
	assert.True(t, suggested(open("1. Lantern sway\n2. Box step\n3. Box step\n4. Box step\n")), "it fills the phrase")
}

// partedIn returns how many joins of a sheet can't be danced.
func partedIn(text []byte) (n int) {
	score, _ := check.Sheet("quay.md", text, book)
	for i := 1; i < len(score.Passages); i++ {
		if !score.Passages[i].Joined {
			n++
		}
	}
	return n
}

// TestWhatIsOfferedCanBeDanced wherever the part is danced that it is put into.
func TestWhatIsOfferedCanBeDanced(t *testing.T) {
	names := []string{"Closed basic", "Forward half of the closed basic", "New York to the left side", "New York to the right side", "Spot turn to the left", "Fan", "Hockey stick", "Time step"}
	rapid.Check(t, func(r *rapid.T) {
		var order strings.Builder
		write := func(heading string, from []string) {
			order.WriteString(heading)
			for i := range rapid.IntRange(1, 3).Draw(r, "lines") {
				fmt.Fprintf(&order, "%d. %s%s\n", i+1, rapid.SampledFrom(from).Draw(r, "name"), rapid.SampledFrom([]string{"", "", " × 2"}).Draw(r, "times"))
			}
		}
		order.WriteString("1. Closed basic\n") // there is nothing to repeat before it
		write("", append(names[:3:3], "Part A", "Part B", "From the top"))
		write("\n### Part A\n", append(names[:5:5], "Part B"))
		write("\n### Part B\n", names)
		d := opened(r, order.String())
		line := rapid.IntRange(-1, d.Order.Len()-1).Draw(r, "line")
		before := partedIn(d.Text())
		offers := d.Suggest(line)
		if line >= 0 {
			links, _ := d.Links(line)
			offers = append(offers, links...)
		}
		for _, n := range d.Next(line) {
			if n.Why == "" && n.Apart == "" {
				offers = append(offers, draft.Offer{After: line, Lines: []routine.Line{n.Line()}})
			}
		}
		if len(offers) == 0 {
			return
		}
		text, err := d.Put(rapid.SampledFrom(offers).Draw(r, "offer"))
		require.NoError(r, err)
		require.LessOrEqual(r, partedIn(text), before, "%s\nbecomes\n%s", d.Text(), text)
	})
}
