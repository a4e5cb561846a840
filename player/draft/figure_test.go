package draft_test

import (
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

// begun returns a draft with a figure begun after its last line.
func begun(t require.TestingT, d draft.Draft, name string) (draft.Draft, *draft.Figure) {
	text, err := d.BeginFigure(name)
	require.NoError(t, err)
	return reread(t, d, name, text)
}

// reread returns a draft with another text, and its figure.
func reread(t require.TestingT, d draft.Draft, name string, text []byte) (draft.Draft, *draft.Figure) {
	d, err := d.Change(text, d.Line)
	require.NoError(t, err)
	f, err := d.Figure(name)
	require.NoError(t, err)
	return d, f
}

// TestAFigureIsWritten of what is proposed for each count, in every dance: the free foot steps, nothing is wrong with
// it, and it can be danced after what is there.
func TestAFigureIsWritten(t *testing.T) {
	for _, dance := range book.Dances() {
		d, err := draft.New(shelf(), danceOf(t, dance), "Quay", routine.Room{})
		require.NoError(t, err)
		d, f := begun(t, d, "Lantern sway")
		assert.NotEmpty(t, f.Starts(), dance)
		for i := range 6 {
			next := f.Next()
			free := f.Free(i)
			for _, p := range routine.Partners() {
				s, found := routine.ParseStep(next[draft.LeaderCell+draft.Cell(p)])
				require.Empty(t, found, dance)
				if free[p] != routine.NoFoot && !s.Stands() {
					assert.Equal(t, free[p], s.Foot, "%s, row %d: %v", dance, i+1, next)
				}
			}
			assert.Contains(t, f.Ways(i, routine.Leader), next[draft.LeaderCell], dance)
			text, err := f.Write(i, draft.LeaderCell, next[draft.LeaderCell])
			require.NoError(t, err)
			d, f = reread(t, d, "lantern sway", text)
			require.Len(t, f.Rows, i+1)
			assert.Equal(t, next, f.Rows[i], dance)
		}
		rows, elsewhere := f.Objections()
		for _, found := range append(rows, elsewhere) {
			assert.Empty(t, found, "%s\n%s", dance, d.Text())
		}
		d = changed(t, d, "Lantern sway")
		assert.False(t, routine.HasErrors(d.Found), "%s: %+v", dance, d.Found)

		own, err := f.Sheet()
		require.NoError(t, err)
		score, _ := check.Sheet("lantern-sway.md", own, book)
		require.Len(t, score.Figures, 1)
		assert.Len(t, score.Figures[0].Rows, 6)
	}
}

// TestTheFollowerFollows while her step is the natural opposite; one that was changed stays.
func TestTheFollowerFollows(t *testing.T) {
	d, err := draft.New(shelf(), danceOf(t, "rumba"), "Quay", routine.Room{})
	require.NoError(t, err)
	d, f := begun(t, d, "Lantern sway")
	write := func(row int, cell draft.Cell, says string) {
		text, err := f.Write(row, cell, says)
		require.NoError(t, err)
		d, f = reread(t, d, "Lantern sway", text)
	}
	write(0, draft.LeaderCell, "forward")
	write(1, draft.LeaderCell, "replace")
	write(2, draft.LeaderCell, "side")
	require.Equal(t, []draft.Row{{"2", "LF forward", "RF back"}, {"3", "RF replace", "LF replace"}, {"4-1", "LF side", "RF side"}}, f.Rows)
	write(0, draft.LeaderCell, "back, check")
	assert.Equal(t, draft.Row{"2", "LF back, check", "RF forward, check"}, f.Rows[0])
	write(0, draft.FollowerCell, "side")
	write(0, draft.LeaderCell, "diagonally back")
	assert.Equal(t, draft.Row{"2", "LF diagonally back", "RF side"}, f.Rows[0])
	write(2, draft.CountCell, "4")
	assert.Equal(t, "4", f.Rows[2][draft.CountCell])

	for cell, says := range map[draft.Cell]string{draft.CountCell: "moon", draft.LeaderCell: "LF moonwise", draft.FollowerCell: "RF side, LF side"} {
		_, err := f.Write(1, cell, says)
		assert.Error(t, err, says)
	}
	write(1, draft.LeaderCell, "–")
	assert.Equal(t, "–", f.Rows[1][draft.LeaderCell])
	write(1, draft.LeaderCell, "LF side")
	rows, _ := f.Objections()
	assert.NotEmpty(t, append(rows[1], rows[2]...), "his LF isn't free on the next")
	_, err = f.Sheet()
	assert.ErrorContains(t, err, "something is wrong with Lantern sway yet")
}

func TestAFigureNeedsANameOfItsOwn(t *testing.T) {
	d, err := draft.New(shelf(), danceOf(t, "rumba"), "Quay", routine.Room{})
	require.NoError(t, err)
	d, _ = begun(t, changed(t, d, "Closed basic"), "Lantern sway")
	for name, says := range map[string]string{" ": "needs a name", "lantern SWAY": "already has", "1. Lantern hop": "something else"} {
		_, err := d.BeginFigure(name)
		assert.ErrorContains(t, err, says, name)
	}
	for _, line := range []string{"Lantern sway", "Lantern sway", "Fan"} { // which has no steps
		d = changed(t, d, line)
		assert.NotEmpty(t, d.Next(d.Order.Len()-1))
		d.Suggest(d.Order.Len() - 1)
		d.Links(d.Order.Len() - 2)
	}
	_, err = d.Figure("Fan")
	assert.ErrorIs(t, err, draft.ErrNoFigure)
}

// TestUndoOfFigures leads back over random edits of a figure to each text before, and all outside the figure stays.
func TestUndoOfFigures(t *testing.T) {
	const head, tail = "---\r\ndance: cha-cha # as ever\r\n---\r\n\r\n##  Order\r\n\r\n1. Closed basic\r\n\r\n", "## Notes\r\n\r\n- as  it was"
	const figure = "## Quay step\r\n\r\n|Count|Leader|Follower|\r\n|--|--|--|\r\n|2|LF forward|RF back (look)|\r\n\r\n"
	s := shelf()
	rapid.Check(t, func(t *rapid.T) {
		d, err := draft.Open(s, docOf(head+figure+tail))
		require.NoError(t, err)
		f, err := d.Figure("quay step")
		require.NoError(t, err)
		texts := []string{string(d.Text())}
		for range rapid.IntRange(1, 4).Draw(t, "edits") {
			row, cell := rapid.IntRange(0, len(f.Rows)).Draw(t, "row"), rapid.SampledFrom([]draft.Cell{draft.LeaderCell, draft.FollowerCell}).Draw(t, "cell")
			var text []byte
			switch rapid.IntRange(0, 3).Draw(t, "edit") {
			case 0:
				text = f.Remove(min(row, max(len(f.Rows)-1, 0)))
			case 1:
				text = f.Set("ends", rapid.SampledFrom([]string{"", "closed", "open facing"}).Draw(t, "ends"))
			default:
				text, err = f.Write(row, cell, rapid.SampledFrom([]string{"side", "back, 1/4 R", "–", "LF forward"}).Draw(t, "step"))
				if err != nil { // it doesn't say which foot, and either may be free
					continue
				}
			}
			if d, f = reread(t, d, "Quay step", text); string(d.Text()) != texts[len(texts)-1] {
				texts = append(texts, string(d.Text()))
			}
			require.True(t, strings.HasPrefix(string(d.Text()), head), "%q", d.Text())
			require.True(t, strings.HasSuffix(string(d.Text()), tail), "%q", d.Text())
			if len(f.Rows) == 0 {
				break
			}
		}
		for i := len(texts) - 2; i >= 0; i-- {
			d, _ = d.Undo()
			require.Equal(t, texts[i], string(d.Text()))
		}
	})
}

func docOf(text string) sheets.Document {
	return sheets.Document{Name: "quay.md", Text: []byte(text)}
}
