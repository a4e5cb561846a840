package routine_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/routine"
)

// chapter is a chapter of one figure, with a line for its settings and facts above its chart.
func chapter(setting, facts string) []byte {
	return []byte("---\ndance: river waltz\nmetre: 3/4\n" + setting + "---\n\n## Jetty turn\n\n" + facts +
		"\n| Count | Leader | Follower |\n|:-----:|--------|----------|\n| 1 | RF forward | LF back |\n| 2 | LF side | RF side |\n| 3 | RF close | LF close |\n")
}

// TestHowTheTradeUsesAFigure: its parts, where it is begun and its family are facts.
func TestHowTheTradeUsesAFigure(t *testing.T) {
	s, found := routine.ReadChapter("river.md", chapter("family: American style\nusual start: dw\n",
		"- Parts used: steps 1 to 2 = jetty hesitation, 3 backing line of dance or DC = last step\n- begun: DW or line of dance, backing DC\n- family: on 2\n"))
	require.Empty(t, found)
	assert.Equal(t, routine.American, s.Dance.Family)
	assert.Equal(t, facing(routine.DW), *s.Dance.UsualStart)
	fig := s.Figures[0]
	require.Len(t, fig.Parts, 2)
	assert.Equal(t, "1–2 = jetty hesitation", fig.Parts[0].String())
	assert.Equal(t, "3 backing LOD or DC = last step", fig.Parts[1].String())
	assert.Equal(t, [2]int{2, 3}, [2]int{fig.Parts[1].From, fig.Parts[1].To})
	assert.Equal(t, []routine.Turn{-1}, fig.Parts[1].Or)
	assert.Equal(t, []routine.Alignment{facing(routine.DW), facing(routine.LOD), backing(routine.DC)}, fig.Begun)
	assert.Equal(t, routine.OnTwo, fig.Family)
	text, found := routine.Tidy("river.md", chapter("", "- Parts used: steps 1 to 2 = jetty hesitation, 3\n- Begun: DW or line of dance; backing DC, LOD\n- style: american style\n"), routine.EmptyBook{})
	require.Empty(t, found)
	assert.Contains(t, string(text), "- parts: 1–2 = jetty hesitation, 3\n- begun: DW, LOD, backing DC, backing LOD\n- family: American\n")
	again, _ := routine.Tidy("river.md", text, routine.EmptyBook{})
	assert.Equal(t, string(text), string(again))
}

// TestAFigureThatIsBegunAnywhere, such as a box, says so in a word.
func TestAFigureThatIsBegunAnywhere(t *testing.T) {
	s, found := routine.ReadChapter("river.md", chapter("", "- begun: Anywhere\n"))
	require.Empty(t, found)
	assert.Len(t, s.Figures[0].Begun, 8)
	text, _ := routine.Tidy("river.md", chapter("", "- begun: Anywhere\n"), routine.EmptyBook{})
	assert.Contains(t, string(text), "- begun: anywhere\n")
}

// TestUsesThatMakeNoSense are reported, each once and where it stands.
func TestUsesThatMakeNoSense(t *testing.T) {
	for _, test := range []struct{ setting, fact, code, at string }{
		{"", "- parts: 1–4\n", "steps-range", "1–4"},
		{"", "- parts: 2–1\n", "steps-range", "2–1"},
		{"", "- parts: 0–2\n", "steps-range", "0–2"},
		{"", "- parts: 1–2, the rest\n", "bad-value", "the rest"},
		{"", "- parts: 1–2, 1–2\n", "said-twice", "1–2\n"},
		{"", "- parts: 1–2 upstream\n", "bad-value", "1–2 upstream"},
		{"", "- begun: river\n", "unknown-direction", "river"},
		{"", "- family: on 3\n", "bad-value", "on 3"},
		{"", "- family: on 2\n- family: on 1\n", "said-twice", "family: on 1"},
		{"family: rivers\n", "", "bad-value", "rivers"},
		{"usual start: upstream\n", "", "bad-value", "upstream"},
		{"sequences:\n  - Jetty turn; Boathouse spin\n", "", "unknown-figure", "Jetty turn; Boathouse spin"},
		{"sequences: Jetty turn, step 4\n", "", "unknown-figure", "Jetty turn, step 4"},
	} {
		src := chapter(test.setting, test.fact)
		_, found := routine.ReadChapter("river.md", src)
		if assert.Len(t, found, 1, "%+v", test) {
			assert.Equal(t, routine.Code(test.code), found[0].Code, test.fact)
			assert.True(t, strings.HasPrefix(string(src[found[0].Span.Start.Offset:]), test.at), "%s", found[0].Message)
		}
	}
}
