package routine_test

import (
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
