package routine_test

import (
	"strings"
	"unicode/utf8"

	"github.com/stretchr/testify/require"

	"dance.example/slowquick/routine"
)

// place is what a finding is and where.
type place struct {
	code         routine.Code
	line, column int
}

func places(found []routine.Finding) (out []place) {
	for _, f := range found {
		out = append(out, place{f.Code, f.Span.Start.Line, f.Span.Start.Column})
	}
	return out
}

// wellPlaced requires what holds for the findings of any text: spans within
// it, lines and columns that agree with the offsets, sorted, every code
// explained with its severity, and nothing that a terminal obeys.
func wellPlaced(t require.TestingT, src []byte, found []routine.Finding) {
	pos := func(p routine.Pos) {
		require.GreaterOrEqual(t, p.Offset, 0)
		require.LessOrEqual(t, p.Offset, len(src))
		before := string(src[:p.Offset])
		require.Equal(t, strings.Count(before, "\n")+1, p.Line)
		require.Equal(t, utf8.RuneCountInString(before[strings.LastIndexByte(before, '\n')+1:])+1, p.Column)
	}
	span := func(s routine.Span) {
		pos(s.Start)
		pos(s.End)
		require.LessOrEqual(t, s.Start.Offset, s.End.Offset)
	}
	for i, f := range found {
		span(f.Span)
		e, ok := routine.Explain(f.Code)
		require.True(t, ok, "%s is not explained", f.Code)
		require.Equal(t, e.Severity, f.Severity, f.Code)
		require.NotEmpty(t, f.Message, f.Code)
		require.False(t, unsafe(f.Message), "%q", f.Message)
		require.False(t, unsafe(f.Hint), "%q", f.Hint)
		for _, r := range f.Related {
			span(r.Span)
			require.False(t, unsafe(r.Message), "%q", r.Message)
		}
		if i > 0 {
			a, b := found[i-1], f
			require.True(t, a.Span.Start.Offset < b.Span.Start.Offset || a.Span.Start.Offset == b.Span.Start.Offset && a.Code <= b.Code,
				"%s at %d stands before %s at %d", a.Code, a.Span.Start.Offset, b.Code, b.Span.Start.Offset)
		}
	}
}
