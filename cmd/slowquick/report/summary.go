package report

import (
	"fmt"

	"dance.example/slowquick/player/harmless"
	"dance.example/slowquick/player/summary"
)

// Summary prints what a session came to.
func Summary(p Page, sections []summary.Section) {
	for _, s := range sections {
		fmt.Fprintln(p, harmless.Masked(s.Title))
		for _, text := range s.Lines {
			for i, line := range p.Lines(harmless.Masked(text)) {
				fmt.Fprintf(p, "%s%s\n", [2]string{"  ", "    "}[min(i, 1)], line)
			}
		}
	}
}
