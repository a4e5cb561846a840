package handout_test

import (
	"bytes"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"dance.example/slowquick/library"
	"dance.example/slowquick/library/check"
	"dance.example/slowquick/player"
	"dance.example/slowquick/player/handout"
	"dance.example/slowquick/player/internal/golden"
	"dance.example/slowquick/routine"
)

// bare knows the dances but no figures.
type bare struct{ *library.Library }

func (bare) Figure(*routine.Dance, string) (*routine.Figure, bool) { return nil, false }
func (bare) Figures(*routine.Dance) []string                       { return nil }

func md(t testing.TB, text string, o handout.Options) string {
	t.Helper()
	var out bytes.Buffer
	require.NoError(t, handout.Markdown(&out, handout.Sheet{Text: []byte(text), Line: timeline(t, text), Options: o}))
	return out.String()
}

// steps are the events of a timeline that begin a step, without their places in it.
type steps struct {
	figure, count, words string
	length               routine.Beats
	leader, follower     string
}

func stepsOf(timeline *player.Timeline, from, to routine.Beats) (list []steps) {
	for i := range timeline.Events {
		e := &timeline.Events[i]
		if e.Row < 0 || e.At < from || e.At >= to {
			continue
		}
		s := steps{timeline.Score.Passages[e.Passage].Figure.Name, e.Labels.Count, e.Labels.Words, e.Length, "", ""}
		for p, text := range []*string{&s.leader, &s.follower} {
			if e.Steps[p] != nil {
				*text = e.Steps[p].String()
			}
		}
		list = append(list, s)
	}
	return list
}

// TestMarkdownIsASheet: checked without the library's figures it has no more findings than the sheet it
// was made from, is tidy, and dances the same.
func TestMarkdownIsASheet(t *testing.T) {
	for name, text := range sheetTexts(t) {
		was := timeline(t, text)
		_, before := check.Sheet("sheet.md", []byte(text), shipped)
		out := md(t, text, wholeRoutine())
		score, found := check.Sheet("sheet.md", []byte(out), bare{shipped})
		assert.Len(t, found, len(before), "%s: %v", name, found)
		is := player.NewTimeline(score)
		assert.Equal(t, stepsOf(was, was.Start, was.End), stepsOf(is, is.Start, is.End), name)
		assert.Equal(t, was.Score.Title, score.Title, name)
		assert.Equal(t, was.Seconds(was.End), is.Seconds(is.End), name)
		tidy, _ := routine.Tidy("sheet.md", []byte(out), bare{shipped})
		assert.Equal(t, unpadded(string(tidy)), unpadded(out), name)
	}
}

// unpadded returns the lines of text, ignoring the widths of tables.
func unpadded(text string) (list []string) {
	for line := range strings.Lines(text) {
		if strings.HasPrefix(line, "|:") {
			continue
		}
		list = append(list, strings.Join(strings.Fields(line), " "))
	}
	return list
}

// TestMarkdownTellsTempiAsBars, as the trade does, if no fraction is lost.
func TestMarkdownTellsTempiAsBars(t *testing.T) {
	for written, told := range map[string]string{"25 to 24 bars/min": "25 to 24 bars/min", "100 beats/min": "25 bars/min", "99.999 beats/min": "99.999 beats/min"} {
		out := md(t, "---\ndance: rumba\n---\n## Order\n\n1. Closed basic\n   - tempo: "+written+"\n", wholeRoutine())
		assert.Contains(t, out, "\n   - tempo: "+told+"\n")
	}
}

// TestOneBarIsNoRange: a range of one bar is written as that bar.
func TestOneBarIsNoRange(t *testing.T) {
	text := "---\ndance: waltz\n---\n## Order\n\n1. Natural turn, steps 1–3\n2. Natural turn, steps 4 to 4\n"
	timeline := timeline(t, text)
	o := wholeRoutine()
	o.Part = timeline.Passage(0)
	out := md(t, text, o)
	assert.Contains(t, out, "part bar 1 of the routine")
	o.Part = timeline.Passage(1)
	assert.Contains(t, md(t, text, o), "Natural turn, step 4\n")
}

// TestMarkdownIndentsBelowLongNumbers: what item 10 sets is written once, and indented as Markdown
// requires.
func TestMarkdownIndentsBelowLongNumbers(t *testing.T) {
	for _, indent := range []string{"   ", "    "} {
		out := md(t, "---\ndance: rumba\n---\n## Order\n\n10. Closed basic\n"+indent+"- tempo: 25 bars/min\n11. Closed basic\n\n- Lanterns low.\n", wholeRoutine())
		assert.Equal(t, 1, strings.Count(out, "tempo: "), out)
		assert.Contains(t, out, "- Lanterns low.")
	}
	order := strings.Repeat("1. Closed basic\n", 9) + "1. Closed basic\n   - tempo: 25 bars/min\n"
	assert.Contains(t, md(t, "---\ndance: rumba\n---\n## Order\n\n"+order, wholeRoutine()), "\n10. Closed basic\n    - tempo: 25 bars/min\n")
}

// TestMarkdownOfAPart: a part is a sheet too, and begins facing as it does in the whole.
func TestMarkdownOfAPart(t *testing.T) {
	for name, text := range sheetTexts(t) {
		was := timeline(t, text)
		last := len(was.Score.Passages) - 1
		first := last
		for first > 0 && was.Score.Passages[first-1].Item >= was.Score.Passages[last].Item-1 {
			first--
		}
		o := wholeRoutine()
		o.Part = player.Interval{From: was.Passage(first).From, To: was.End}
		o.Settings.Percent, o.Times = 80, 2
		out := md(t, text, o)
		score, found := check.Sheet("sheet.md", []byte(out), bare{shipped})
		assert.False(t, routine.HasErrors(found), "%s: %v", name, found)
		is := player.NewTimeline(score)
		assert.Equal(t, stepsOf(was, o.Part.From, o.Part.To), stepsOf(is, is.Start, is.End), name)
		assert.Contains(t, out, "\nTo practise: tempo ")
	}
}

// TestMarkdownOfASide: one partner's steps are a sheet, too.
func TestMarkdownOfASide(t *testing.T) {
	for name, text := range sheetTexts(t) {
		o := wholeRoutine()
		o.Shown = [2]bool{false, true}
		score, found := routine.Read("sheet.md", []byte(md(t, text, o)), bare{shipped})
		assert.False(t, routine.HasErrors(found), "%s: %v", name, found)
		for _, f := range score.Figures {
			assert.Equal(t, [2]bool{false, true}, f.Has, name)
		}
	}
}

// TestTextIsPlain: no line of a plain text is wider than a page, and none ends in blanks.
func TestTextIsPlain(t *testing.T) {
	text := sheetTexts(t)["lantern-night-waltz"]
	o := wholeRoutine()
	o.Part = player.Interval{From: 0, To: timeline(t, text).Passage(3).To}
	var out bytes.Buffer
	require.NoError(t, handout.Text(&out, handout.Sheet{Text: []byte(text), Line: timeline(t, text), Options: o}))
	golden.Equal(t, out.String())
	for line := range strings.Lines(out.String()) {
		line = strings.TrimSuffix(line, "\n")
		assert.Equal(t, strings.TrimRight(line, " "), line)
		assert.LessOrEqual(t, utf8.RuneCountInString(line), 78)
	}
}

// changed draws a change to a sheet that holds all its figures: columns lost or misnamed, parts in
// tables of their own, facts left out, parts and repeats in the order, prose.
func changed(t *rapid.T, text string) string {
	var out []string
	columns := "| Count | Leader | Follower |"
	inOrder, drop := false, -1
	for line := range strings.Lines(text) {
		line = strings.TrimSuffix(line, "\n")
		switch words := strings.Join(strings.Fields(line), " "); {
		case strings.HasPrefix(line, "## "):
			inOrder = line == "## Order"
		case words == columns:
			drop = rapid.SampledFrom([]int{-1, -1, 1, 2}).Draw(t, "drop")
			line = rapid.SampledFrom([]string{columns, columns, "| Count | Gent | Follower |", "| Count | Leader | Her steps |", "| Count | Man | Lady |", "| Count | Note | Lady |"}).Draw(t, "columns")
			if drop > 0 {
				cells := strings.Split(columns, "|")
				line = strings.Join(append(cells[:drop+1], cells[drop+2:]...), "|")
			}
		case strings.HasPrefix(line, "|") && drop > 0:
			cells := strings.Split(line, "|")
			line = strings.Join(append(cells[:drop+1], cells[drop+2:]...), "|")
		case strings.HasPrefix(line, "- ") && !inOrder:
			if rapid.IntRange(0, 4).Draw(t, "fact") == 0 {
				continue
			}
			line += rapid.SampledFrom([]string{"", "", "", "", ", leader LF free", ", follower RF free", ", lady facing wall", " (arms | low)"}).Draw(t, "said")
		case inOrder && words != "":
			if rapid.IntRange(0, 5).Draw(t, "item") == 0 {
				continue
			}
			line += rapid.SampledFrom([]string{"", "", "", " × 2", ", step 1", ", steps 1–3", " — <b>low</b> & | slow", " — 1. [x](y) `#`"}).Draw(t, "asked")
		case words == "" && rapid.IntRange(0, 9).Draw(t, "prose") == 0:
			line = "\n" + rapid.SampledFrom([]string{"Count | me in", "- tempo: lanterns", "1. Order", "> ## Order", "```\n## Order\n```", "*softly* <i>", "    - count: words", "[a]: b"}).Draw(t, "text") + "\n"
		}
		out = append(out, line)
	}
	return strings.Join(out, "\n") + "\n"
}

// TestMarkdownOfWhatIsDancedCanBeDanced, for any sheet without an error, either partner, and any part of
// it.
func TestMarkdownOfWhatIsDancedCanBeDanced(t *testing.T) {
	var whole []string
	for _, text := range sheetTexts(t) {
		whole = append(whole, md(t, text, wholeRoutine()))
	}
	slices.Sort(whole)
	danced := 0
	rapid.Check(t, func(rt *rapid.T) {
		text := changed(rt, rapid.SampledFrom(whole).Draw(rt, "sheet"))
		score, found := check.Sheet("sheet.md", []byte(text), bare{shipped})
		if routine.HasErrors(found) || len(score.Passages) == 0 {
			return
		}
		danced++
		timeline := player.NewTimeline(score)
		parts := []player.Interval{{}, {From: timeline.Passage(rapid.IntRange(0, len(score.Passages)-1).Draw(rt, "from")).From, To: timeline.End}}
		for _, shown := range [][2]bool{{true, true}, {true, false}, {false, true}} {
			for _, part := range parts {
				o := wholeRoutine()
				o.Shown, o.Part = shown, part
				var out bytes.Buffer
				require.NoError(rt, handout.Markdown(&out, handout.Sheet{Text: []byte(text), Line: timeline, Options: o}))
				_, found := check.Sheet("handout.md", out.Bytes(), bare{shipped})
				require.False(rt, routine.HasErrors(found), "%v\n%s\nof\n%s", found, out.String(), text)
			}
		}
	})
	require.Positive(t, danced, "sheets without an error")
}
