package routine_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"dance.example/slowquick/routine"
)

// beats reads lengths as charts print them, "1 ½ ½ 2½".
func beats(t testing.TB, text string) (out []routine.Beats) {
	t.Helper()
	parts := map[rune]routine.Beats{'¼': routine.Beat / 4, '½': routine.Beat / 2, '¾': 3 * routine.Beat / 4}
	for _, field := range strings.Fields(text) {
		var b routine.Beats
		for _, r := range field {
			switch {
			case parts[r] != 0:
				b += parts[r]
			case r >= '0' && r <= '9':
				b = b*10 + routine.Beats(r-'0')*routine.Beat
			default:
				t.Fatalf("%q is no length", field)
			}
		}
		out = append(out, b)
	}
	return out
}

// inPlace returns a figure danced on the spot to some counts, beginning with the leader's foot first;
// both wait on a count with "–" after it.
func inPlace(name, counts string, first routine.Foot) string {
	var s strings.Builder
	fmt.Fprintf(&s, "\n## %s\n\n| Count | Leader | Follower |\n|:-:|---|---|\n", name)
	foot := first
	for count := range strings.FieldsSeq(counts) {
		if waits, ok := strings.CutSuffix(count, "–"); ok {
			fmt.Fprintf(&s, "| %s | – | – |\n", waits)
			continue
		}
		fmt.Fprintf(&s, "| %s | %s in place | %s in place |\n", count, foot, foot.Other())
		foot = foot.Other()
	}
	return s.String()
}

// foxtrot1914 is the dance of which Vernon Castle wrote "two slow, four fast".
const foxtrot1914 = "---\ndance: Foxtrot of 1914\nmetre: 4/4\nslow: 1\nquick: 1/2\nusual: 28–40 bars/min\n---\n"

// swing counts by its own numbers, as jive does, and its & is half a beat.
const swing = "---\ndance: Swing\nmetre: 4/4\nnumbers: figure\nusual: 34–36 bars/min\n---\n"

func of(dance string) string { return "---\ndance: " + dance + "\n---\n" }

// TestBeatValues: the values that charts print beside their counts. Unless a
// line names another source they are common practice: exam notes, printed
// technique charts and step lists agree.
func TestBeatValues(t *testing.T) {
	lib := shipped()
	for _, row := range []struct {
		name   string
		head   string
		counts string
		values string
		sum    string
	}{
		{"cha-cha basic", of("cha-cha"), "2 3 4 & 1", "1 1 ½ ½ 1", "4"},
		{"cha-cha chassé or lock", of("cha-cha"), "4 & 1", "½ ½ 1", "2"},
		{"rumba", of("rumba"), "2 3 4-1", "1 1 2", "4"},
		{"rumba box, QQS", of("rumba"), "Q Q S", "1 1 2", "4"},
		{"rumba box, SQQ", of("rumba"), "S Q Q", "2 1 1", "4"},
		{"samba basic, whisk, bota fogo", of("samba"), "1 a 2", "¾ ¼ 1", "2"},
		{"samba roll, closed rock", of("samba"), "S Q Q", "1 ½ ½", "2"},
		{"corta jaca", of("samba"), "S Q Q Q Q Q Q", "1 ½ ½ ½ ½ ½ ½", "4"},
		{"volta", of("samba"), "1 a 2 a 3 a 4", "¾ ¼ ¾ ¼ ¾ ¼ 1", "4"},
		{"volta, its bars numbered each by itself", of("samba"), "1 a 2 a 1 a 2", "¾ ¼ ¾ ¼ ¾ ¼ 1", "4"},
		{"samba side chassé", of("samba"), "Q Q Q Q S S", "½ ½ ½ ½ 1 1", "4"},
		{"cruzados", of("samba"), "Q Q S", "½ ½ 1", "2"},
		{"samba runs, plait", of("samba"), "S S Q Q S", "1 1 ½ ½ 1", "4"},
		{"jive, six beats", of("jive"), "1 2 3 a 4 3 a 4", "1 1 ¾ ¼ 1 ¾ ¼ 1", "6"},
		{"jive, six beats in slow and quick", of("jive"), "Q Q Q a Q Q a Q", "1 1 ¾ ¼ 1 ¾ ¼ 1", "6"},
		{"jive, one bar", of("jive"), "Q Q Q a Q", "1 1 ¾ ¼ 1", "4"},
		{"swing triple", swing, "1 & 2", "½ ½ 1", "2"},
		{"waltz, Viennese waltz", of("waltz"), "1 2 3", "1 1 1", "3"},
		{"waltz chassé", of("waltz"), "1 2 & 3", "1 ½ ½ 1", "3"},
		{"whisk and chassé", of("waltz"), "1 2 3 1 2 & 3", "1 1 1 1 ½ ½ 1", "6"},
		{"feather, three step, reverse turn", of("foxtrot"), "S Q Q", "2 1 1", "4"},
		{"quickstep quarter turn, chassé, lock", of("quickstep"), "S Q Q S", "2 1 1 2", "6"},
		{"social foxtrot", of("foxtrot"), "S S Q Q", "2 2 1 1", "6"},
		{"tango link", of("tango"), "Q Q", "½ ½", "1"},
		{"tango promenade", of("tango"), "S Q Q S", "1 ½ ½ 1", "3"},
		{"natural promenade turn", of("tango"), "S Q Q S &", "1 ½ ½ ¾ ¼", "3"},
		{"natural twist turn", of("tango"), "S Q Q S Q Q", "1 ½ ½ 1 ½ ½", "4"},
		{"natural twist turn, printed in eights as 12·3·4·56·7·8", of("foxtrot"), "1-2 3 4 5-6 7 8", "2 1 1 2 1 1", "8"},
		{"paso doble, one to eight", of("paso doble"), "1 2 3 4 5 6 7 8", "1 1 1 1 1 1 1 1", "8"},
		{"salsa", of("salsa"), "1 2 3-4 5 6 7-8", "1 1 2 1 1 2", "8"},
		{"salsa, the waits written", of("salsa"), "1 2 3 4– 5 6 7 8–", "1 1 1 1 1 1 1 1", "8"},
		// Vernon Castle in the Ladies' Home Journal, November 1914: "two slow,
		// four fast" is one bar.
		{"fox trot of 1914", foxtrot1914, "S S Q Q Q Q", "1 1 ½ ½ ½ ½", "4"},
		// Castle, Modern Dancing, Harper 1914, p. 71: four steps, then rest on
		// the last foot over counts 5 and 6.
		{"hesitation waltz of 1914", of("waltz"), "1 2 3 1-3", "1 1 1 3", "6"},
	} {
		t.Run(row.name, func(t *testing.T) {
			src := row.head + "\n## Order\n\n1. Jetty step × 4\n" + inPlace("Jetty step", row.counts, routine.LF)
			score, found := routine.Read("test.md", []byte(src), lib)
			for _, f := range found {
				// An odd number of steps ends on the other foot, and half a bar is not a whole one; the
				// count itself must be in order.
				assert.Contains(t, []routine.Code{"join-foot", "bar-not-full", "last-bar-open"}, f.Code, f.Message)
			}
			require.Len(t, score.Passages, 4)
			p := score.Passages[0]
			var values []routine.Beats
			var sum routine.Beats
			for i := range p.Figure.Rows {
				values = append(values, p.Figure.Length(i, i+1))
				sum += p.Figure.Length(i, i+1)
			}
			assert.Equal(t, beats(t, row.values), values)
			assert.Equal(t, beats(t, row.sum), []routine.Beats{sum})
			assert.Equal(t, sum, p.Figure.Length(0, len(values)))
		})
	}
}

// passages returns when each passage begins, when it ends, and how long its last step lasts.
func passages(s *routine.Score) (out [][3]routine.Beats) {
	for i := range s.Passages {
		p := &s.Passages[i]
		out = append(out, [3]routine.Beats{p.Start, p.End, p.End - p.At(p.To-1)})
	}
	return out
}

// TestLateStarts: guapacha and habanera begin on the & after 2. Common practice, after a printed page
// with these values. Its rule: the last step is half a beat longer only if the next figure begins on
// the & as well; if that begins on 2, the last step keeps its value, and the reverse holds.
func TestLateStarts(t *testing.T) {
	const h = routine.Beat / 2
	chaFigures := inPlace("Jetty step", "2 3 4 & 1", routine.LF) + inPlace("Jetty guapacha", "& 3 4 & 1", routine.LF) +
		inPlace("Quay step", "2 3 4 & 1", routine.RF) + inPlace("Quay guapacha", "& 3 4 & 1", routine.RF)
	rumbaFigures := inPlace("Jetty step", "2 3 4-1", routine.LF) + inPlace("Jetty habanera", "& 3 4-1", routine.LF) +
		inPlace("Quay step", "2 3 4-1", routine.RF) + inPlace("Quay habanera", "& 3 4-1", routine.RF)
	for _, test := range []struct {
		name    string
		dance   string
		order   []string
		figures string
		want    [][3]routine.Beats // start, end, last step
	}{
		{"basic before basic", "cha-cha", []string{"Jetty step", "Quay step"}, chaFigures,
			[][3]routine.Beats{{2 * h, 10 * h, 2 * h}, {10 * h, 18 * h, 2 * h}}},
		{"basic before guapacha", "cha-cha", []string{"Jetty step", "Quay guapacha", "Jetty step", "Quay step"}, chaFigures,
			[][3]routine.Beats{{2 * h, 11 * h, 3 * h}, {11 * h, 18 * h, 2 * h}, {18 * h, 26 * h, 2 * h}, {26 * h, 34 * h, 2 * h}}},
		{"guapacha before guapacha", "cha-cha", []string{"Jetty step", "Quay guapacha", "Jetty guapacha", "Quay step"}, chaFigures,
			[][3]routine.Beats{{2 * h, 11 * h, 3 * h}, {11 * h, 19 * h, 3 * h}, {19 * h, 26 * h, 2 * h}, {26 * h, 34 * h, 2 * h}}},
		// Danced again at once, the last step is followed by the first, on the &.
		{"guapacha first and last", "cha-cha", []string{"Jetty guapacha", "Quay guapacha"}, chaFigures,
			[][3]routine.Beats{{3 * h, 11 * h, 3 * h}, {11 * h, 19 * h, 3 * h}}},
		{"guapacha first", "cha-cha", []string{"Jetty guapacha", "Quay step"}, chaFigures,
			[][3]routine.Beats{{3 * h, 10 * h, 2 * h}, {10 * h, 19 * h, 3 * h}}},
		{"guapacha last", "cha-cha", []string{"Jetty step", "Quay guapacha"}, chaFigures,
			[][3]routine.Beats{{2 * h, 11 * h, 3 * h}, {11 * h, 18 * h, 2 * h}}},
		{"rumba before habanera", "rumba", []string{"Jetty step", "Quay habanera", "Jetty step", "Quay step"}, rumbaFigures,
			[][3]routine.Beats{{2 * h, 11 * h, 5 * h}, {11 * h, 18 * h, 4 * h}, {18 * h, 26 * h, 4 * h}, {26 * h, 34 * h, 4 * h}}},
		{"habanera before habanera", "rumba", []string{"Jetty habanera", "Quay habanera"}, rumbaFigures,
			[][3]routine.Beats{{3 * h, 11 * h, 5 * h}, {11 * h, 19 * h, 5 * h}}},
		{"parts of a guapacha", "cha-cha", []string{"Jetty guapacha, steps 1–2", "Jetty guapacha, steps 3–5", "Quay step"}, chaFigures,
			[][3]routine.Beats{{3 * h, 6 * h, 2 * h}, {6 * h, 10 * h, 2 * h}, {10 * h, 19 * h, 3 * h}}},
	} {
		t.Run(test.name, func(t *testing.T) {
			src := of(test.dance) + "\n## Order\n\n1. " + strings.Join(test.order, "\n1. ") + "\n" + test.figures
			score, found := routine.Read("test.md", []byte(src), shipped())
			assert.Empty(t, routine.Objections(found))
			assert.Equal(t, test.want, passages(score))
			last := test.want[len(test.want)-1]
			assert.Equal(t, [2]routine.Beats{test.want[0][0], last[1]}, [2]routine.Beats{score.Start, score.End})
			assert.Zero(t, (score.End-score.Start)%(4*routine.Beat), "the routine can be repeated in time")
		})
	}
	t.Run("a part of a figure first", func(t *testing.T) {
		score, found := routine.Read("test.md", []byte(of("cha-cha")+"\n## Order\n\n1. Closed basic, steps 3–5\n2. Closed basic, steps 6–7\n"), shipped())
		assert.Empty(t, found)
		assert.Equal(t, [][3]routine.Beats{{6 * h, 10 * h, 2 * h}, {10 * h, 14 * h, 2 * h}}, passages(score))
	})
	t.Run("values of the steps", func(t *testing.T) {
		for name, want := range map[string]string{"Jetty guapacha": "½ 1 ½ ½ 1", "Quay guapacha": "½ 1 ½ ½ 1", "Jetty step": "1 1 ½ ½ 1"} {
			assert.Equal(t, beats(t, want), lengths(t, of("cha-cha")+chaFigures, name), name)
		}
		for name, want := range map[string]string{"Jetty habanera": "½ 1 2", "Jetty step": "1 1 2"} {
			assert.Equal(t, beats(t, want), lengths(t, of("rumba")+rumbaFigures, name), name)
		}
	})
}

// TestUpbeats: where the & or a lies before the first whole count, it takes its time from the count
// before it, which is the last of the figure before. The rule for & and a is common practice (exam
// notes, printed tables).
func TestUpbeats(t *testing.T) {
	const q = routine.Beat / 4
	for _, test := range []struct {
		name          string
		dance         string
		jetty, quay   string // counts of the two figures
		want          [][3]routine.Beats
		jettyF, quayF routine.Foot
	}{
		{"& 2 3 4 & 1 takes half of the 1", "cha-cha", "2 3 4 & 1", "& 2 3 4 & 1", [][3]routine.Beats{{4, 18, 2}, {18, 36, 4}}, routine.LF, routine.RF},
		{"a 1 2 takes a quarter of the 2", "samba", "1 a 2", "a 1 2", [][3]routine.Beats{{0, 7, 3}, {7, 16, 4}}, routine.LF, routine.RF},
		{"& Q Q takes a quarter of the quick before", "tango", "Q Q Q Q", "& Q Q Q Q", [][3]routine.Beats{{0, 7, 1}, {7, 16, 2}}, routine.LF, routine.LF},
		{"a 1 2 3 4 in a dance that numbers its figures", "jive", "1 2 3 4", "a 1 2 3 4", [][3]routine.Beats{{0, 15, 3}, {15, 32, 4}}, routine.LF, routine.LF},
	} {
		t.Run(test.name, func(t *testing.T) {
			src := of(test.dance) + "\n## Order\n\n1. Jetty step\n2. Quay step\n" +
				inPlace("Jetty step", test.jetty, test.jettyF) + inPlace("Quay step", test.quay, test.quayF)
			score, found := routine.Read("test.md", []byte(src), shipped())
			assert.Empty(t, found)
			for i := range test.want {
				for k := range test.want[i] {
					test.want[i][k] *= q
				}
			}
			assert.Equal(t, test.want, passages(score))
		})
	}
	t.Run("there is no time to take", func(t *testing.T) {
		src := of("foxtrot") + "\n## Order\n\n1. Jetty step\n2. Quay step\n" + inPlace("Jetty step", "1 2 3 4 &", routine.LF) + inPlace("Quay step", "& 1 2 3 4", routine.RF)
		assert.Equal(t, []place{{"bar-not-full", 8, 4}}, places(routine.Check("test.md", []byte(src), shipped())))
	})
	t.Run("an upbeat opens the routine", func(t *testing.T) {
		src := of("waltz") + "\n## Order\n\n1. Jetty step × 2\n" + inPlace("Jetty step", "& 1 2 3", routine.LF)
		score, found := routine.Read("test.md", []byte(src), shipped())
		assert.Empty(t, found)
		// The & lies before a bar; each 3 is half a beat shorter for the & after it.
		assert.Equal(t, [][3]routine.Beats{{10 * q, 22 * q, 2 * q}, {22 * q, 34 * q, 2 * q}}, passages(score))
	})
}

// lengths returns the lengths of a figure's rows in a sheet without an order.
func lengths(t *testing.T, src, name string) (out []routine.Beats) {
	t.Helper()
	sheet, _ := routine.Parse("test.md", []byte(src), shipped())
	for _, fig := range sheet.Figures {
		if fig.Name == name {
			for i := range fig.Rows {
				out = append(out, fig.Length(i, i+1))
			}
		}
	}
	return out
}

// TestAndIsNotA: both counts occur in samba and are never merged. Common practice.
func TestAndIsNotA(t *testing.T) {
	assert.Equal(t, beats(t, "½ ½ 1"), lengths(t, of("samba")+inPlace("Quay step", "1 & 2", routine.LF), "Quay step"))
	assert.Equal(t, beats(t, "¾ ¼ 1"), lengths(t, of("samba")+inPlace("Quay step", "1 a 2", routine.LF), "Quay step"))
	assert.Equal(t, beats(t, "¼ ¼ ¼ ¼ 1"), lengths(t, of("samba")+inPlace("Quay step", "1 e & a 2", routine.LF), "Quay step"))
}

// TestAFigureOfABarAndAHalf: jive's 1 2 3a4 3a4 is six beats, so two basics fill three bars and the
// third begins with a bar again. Common practice, after a text page that writes the count out; the same
// goes for SQQS and SSQQ.
func TestAFigureOfABarAndAHalf(t *testing.T) {
	const b = routine.Beat
	for _, test := range []struct{ dance, counts string }{
		{"jive", "1 2 3 a 4 3 a 4"},
		{"quickstep", "S Q Q S"},
		{"foxtrot", "S S Q Q"},
	} {
		t.Run(test.dance, func(t *testing.T) {
			read := func(times string) (*routine.Score, []routine.Finding) {
				return routine.Read("test.md", []byte(of(test.dance)+"\n## Order\n\n1. Quay step × "+times+"\n"+inPlace("Quay step", test.counts, routine.LF)), shipped())
			}
			score, found := read("4")
			assert.Empty(t, found)
			var starts []routine.Beats // within their bars
			for _, p := range score.Passages {
				starts = append(starts, p.Start%score.Dance.Metre.Bar())
			}
			assert.Equal(t, []routine.Beats{0, 2 * b, 0, 2 * b}, starts)
			assert.Equal(t, 2*3*score.Dance.Metre.Bar(), score.End-score.Start)

			_, found = read("3")
			assert.Equal(t, []place{{"last-bar-open", 7, 4}}, places(found))
		})
	}
}

// TestTheBarNamesTheBeat: a number after a number is the next beat of that name; a gap is reported with
// the count that would fill it.
func TestTheBarNamesTheBeat(t *testing.T) {
	for _, test := range []struct {
		name, dance, counts string
		at                  string // in beats from the first
		want                []place
		hint                string
	}{
		{"from bar to bar", "waltz", "1 2 3 1 2 3", "0 1 2 3 4 5", nil, ""},
		{"over the bar line", "cha-cha", "2 3 4 1 2 3 4-1", "0 1 2 3 4 5 6", nil, ""},
		{"numbers that count on", "salsa", "1 2 3-4 5 6 7-8", "0 1 2 4 5 6", nil, ""},
		{"numbers that count on in a dance of two beats", "samba", "1 2 3 4", "0 1 2 3", nil, ""},
		{"a missing beat", "salsa", "1 2 3-4 5 7", "0 1 2 4 6", []place{{"count-skipped", 13, 3}}, "write 5-6 if 5 is held, or a row with – in both columns if both wait"},
		{"a beat missing before the bar line", "rumba", "2 3 4 2", "0 1 2 4", []place{{"count-skipped", 12, 3}}, "write 4-1 if 4 is held, or a row with – in both columns if both wait"},
		{"a wrong number leaves most of a bar open", "waltz", "1 2 2 3", "0 1 4 5", []place{{"count-skipped", 11, 3}}, "write 2-1 if 2 is held, or a row with – in both columns if both wait"},
	} {
		t.Run(test.name, func(t *testing.T) {
			sheet, found := routine.Parse("test.md", []byte(of(test.dance)+inPlace("Quay step", test.counts, routine.LF)+"\n## Order\n\n1. Quay step\n"), shipped())
			assert.Equal(t, test.want, places(found))
			if len(found) > 0 {
				assert.Equal(t, test.hint, found[0].Hint)
			}
			rows := sheet.Figures[0].Rows
			var at []routine.Beats
			for _, r := range rows {
				at = append(at, r.At-rows[0].At)
			}
			assert.Equal(t, beats(t, test.at), at)
		})
	}
}

// counts draws any count.
func counts() *rapid.Generator[routine.Count] {
	return rapid.Custom(func(t *rapid.T) routine.Count {
		c := routine.Count{Kind: rapid.SampledFrom([]routine.CountKind{routine.Number, routine.And, routine.A, routine.E, routine.Slow, routine.Quick}).Draw(t, "kind")}
		if c.Kind == routine.Number {
			c.First = rapid.IntRange(1, 64).Draw(t, "first")
			c.Last = rapid.IntRange(1, 64).Draw(t, "last")
		}
		return c
	})
}

func TestACountIsReadAsItIsWritten(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := counts().Draw(t, "count")
		got, ok := routine.ParseCount(c.String())
		require.True(t, ok, c.String())
		require.Equal(t, c, got)
	})
}

func TestParseCount(t *testing.T) {
	number := func(first, last int) routine.Count {
		return routine.Count{Kind: routine.Number, First: first, Last: last}
	}
	for text, want := range map[string]routine.Count{
		"2": number(2, 2), " 2 ": number(2, 2), "4-1": number(4, 1), "4–1": number(4, 1), "4—1": number(4, 1), "4 - 1": number(4, 1), "64": number(64, 64),
		"&": {Kind: routine.And}, "and": {Kind: routine.And}, "And": {Kind: routine.And}, "+": {Kind: routine.And},
		"a": {Kind: routine.A}, "A": {Kind: routine.A}, "e": {Kind: routine.E},
		"S": {Kind: routine.Slow}, "s": {Kind: routine.Slow}, "slow": {Kind: routine.Slow}, "Q": {Kind: routine.Quick}, "quick": {Kind: routine.Quick},
		"one": number(1, 1), "Two": number(2, 2), "twelve": number(12, 12), "2.": number(2, 2), "3,": number(3, 3), "‘&’": {Kind: routine.And}, "'&'": {Kind: routine.And},
		"“and”": {Kind: routine.And}, "QUICK": {Kind: routine.Quick}, "4-1.": number(4, 1),
	} {
		got, ok := routine.ParseCount(text)
		assert.True(t, ok, "%q", text)
		assert.Equal(t, want, got, "%q", text)
	}
	for _, text := range []string{"", " ", "0", "00", "01", "65", "-1", "1-", "-", "1-0", "1-2-3", "1 2", "1&", "SQ", "third", "²", "٢", "4.5", "+4", "0x4", "1e1", "99999999999999999999"} {
		_, ok := routine.ParseCount(text)
		assert.False(t, ok, "%q", text)
	}
}

// TestSeveralCountsInOneRow: a row with several counts is read as a row for each of them, and tidy writes
// them so.
func TestSeveralCountsInOneRow(t *testing.T) {
	const five = "LF fwd, RF replace; LF side, RF close, LF side"
	for _, test := range []struct{ dance, rows, counts, leader string }{
		{"cha-cha", "|2.3.4&1|" + five + "|RF back, LF recover, RF side, LF cl, RF sd|", "2|3|4|&|1", "LF forward|RF replace|LF side|RF close|LF side"},
		{"cha-cha", "|two three four and one|LF forward RF replace LF side RF closes to LF LF side|–|", "2|3|4|&|1", "LF forward|RF replace|LF side|RF close|LF side"},
		{"cha-cha", "|2-3|LF forward / RF replace|hold|\n|4&|LF side<br>RF close|wait|\n|1|side LF|–|", "2|3|4|&|1", "LF forward|RF replace|LF side|RF close|LF side"},
		{"cha-cha", "|2-3-4-&-1|LF forward (look up, smile), replace RF, side LF, close RF, side LF|pause|", "2|3|4|&|1", "LF forward (look up, smile)|RF replace|LF side|RF close|LF side"},
		{"rumba", "|2-3-4-1|LF forward, RF replace, LF side|RF back, LF replace, RF side|", "2|3|4-1", "LF forward|RF replace|LF side"},
		{"rumba", "|2 3 4 (1)|LF forward, RF replace, LF side|RF back, LF replace, RF side|", "2|3|4-1", "LF forward|RF replace|LF side"},
		{"rumba", "|2|LF forward|RF back|\n|3|RF replace|LF replace|\n|4(1)|LF side|RF side|", "2|3|4-1", "LF forward|RF replace|LF side"},
		{"waltz", "|1 2 3|LF forward, RF side, LF close|RF back, LF side, RF close|\n|4 (1)|RF back|LF forward|\n|5 (2)|LF side|RF side|\n|6 (3)|RF close|LF close|", "1|2|3|1|2|3", "LF forward|RF side|LF close|RF back|LF side|RF close"},
		{"jive", "|QQ|LF back, RF replace|RF back, LF replace|\n|QaQ|LF side, RF half close, LF side|RF side, LF half close, RF side|", "Q|Q|Q|a|Q", "LF back|RF replace|LF side|RF half close|LF side"},
		{"foxtrot", "|slow quick quick|LF forward, RF forward, LF forward|RF back, LF back, RF back|", "S|Q|Q", "LF forward|RF forward|LF forward"},
		{"foxtrot", "|SQQ|L fwd, R fwd, L fwd|R bk, L bk, R bk|", "S|Q|Q", "LF forward|RF forward|LF forward"},
	} {
		src := "---\ndance: " + test.dance + "\n---\n\n## Order\n\n1. Lantern step\n\n## Lantern step\n\n|Count|Leader|Follower|\n|---|---|---|\n" + test.rows + "\n"
		read := func(src []byte) (counts, leader []string) {
			sheet, found := routine.Parse("lantern.md", src, shipped())
			require.Empty(t, found, test.rows)
			for _, r := range sheet.Figures[0].Rows {
				counts, leader = append(counts, r.Count.String()), append(leader, r.Steps[routine.Leader].String())
			}
			return counts, leader
		}
		counts, leader := read([]byte(src))
		assert.Equal(t, test.counts, strings.Join(counts, "|"), test.rows)
		assert.Equal(t, test.leader, strings.Join(leader, "|"), test.rows)
		tidy, _ := routine.Tidy("lantern.md", []byte(src), shipped())
		again, _ := read(tidy)
		assert.Equal(t, counts, again)
		assert.Equal(t, 1+len(counts), strings.Count(string(tidy), "\n| ")-0, "%s", tidy)
	}
}

// TestCountsWithoutTheirSteps: one finding says that steps are missing.
func TestCountsWithoutTheirSteps(t *testing.T) {
	for _, row := range []string{"|2.3.4&1|LF forward, RF replace|RF back, LF replace, RF side, LF close, RF side|", "|2 3|LF forward|RF back|"} {
		src := "---\ndance: cha-cha\n---\n\n## Order\n\n1. Lantern step\n\n## Lantern step\n\n|Count|Leader|Follower|\n|---|---|---|\n" + row + "\n"
		found := routine.Check("lantern.md", []byte(src), shipped())
		require.Len(t, found, 1, "%v", found)
		assert.Equal(t, routine.Code("steps-per-row"), found[0].Code)
	}
}

// TestCountsNeverRunBack: whatever is counted in whatever dance, rows come in the order of their beats,
// and the first begins within a bar.
func TestCountsNeverRunBack(t *testing.T) {
	lib := shipped()
	rapid.Check(t, func(t *rapid.T) {
		dance := rapid.SampledFrom(lib.Dances()).Draw(t, "dance")
		var text strings.Builder
		for _, c := range rapid.SliceOfN(counts(), 1, 12).Draw(t, "counts") {
			text.WriteString(c.String() + " ")
		}
		sheet, _ := routine.Parse("test.md", []byte(of(dance)+inPlace("Quay step", text.String(), routine.LF)), lib)
		require.Len(t, sheet.Figures, 1)
		fig := sheet.Figures[0]
		for i := range fig.Rows {
			require.GreaterOrEqual(t, fig.Length(i, i+1), routine.Beats(0), "row %d of %s", i, text.String())
		}
	})
}

// FuzzCount: the written form of a count reads as the same count.
func FuzzCount(f *testing.F) {
	seeds := []string{"2", "4-1", "4 – 1", "&", "and", "a", "e", "S", "Q", "slow", "", "0", "65", "1-2-3", "²", "\x00", "4-"}
	require.NotEmpty(f, seeds)
	for _, text := range seeds {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		c, ok := routine.ParseCount(text)
		if !ok {
			require.Equal(t, routine.Count{}, c)
			return
		}
		again, ok := routine.ParseCount(c.String())
		require.True(t, ok, "%q", c.String())
		require.Equal(t, c, again)
	})
}

// TestCountsOutOfOrder: counts that stand in the wrong order are told as such, not as beats on which nothing
// is written.
func TestCountsOutOfOrder(t *testing.T) {
	for _, test := range []struct {
		dance, counts string
		code          routine.Code
		message, hint string
	}{
		{"cha-cha", "2 4 3 & 1", "count-order", "3 stands after 4", "swap the two counts"},
		{"waltz", "1 3 2 1 2 3", "count-order", "2 stands after 3", "swap the two counts"},
		{"cha-cha", "2-3 3 4-1", "count-order", "3 is already in the count before it, 2-3", "write 2 there, if it is not held"},
		{"rumba", "2 3 1-4", "count-order", "1-4 is held from a later beat to an earlier one", "write 4-1"},
		{"rumba", "2 4-1 3 4-1 3 2", "count-skipped", "nothing is written for count 3 before this 4-1", "write 2-3 if 2 is held, or a row with – in both columns if both wait"},
	} {
		src := of(test.dance) + inPlace("Quay step", test.counts, routine.LF) + "\n## Order\n\n1. Quay step\n"
		found := routine.Objections(routine.Check("order.md", []byte(src), shipped()))
		if assert.NotEmpty(t, found, test.counts) {
			assert.Equal(t, test.code, found[0].Code, test.counts)
			assert.Equal(t, test.message, found[0].Message, test.counts)
			assert.Equal(t, test.hint, found[0].Hint, test.counts)
			if test.code == "count-order" {
				assert.Len(t, found, 1, "%s: %v", test.counts, found)
			}
		}
	}
}
