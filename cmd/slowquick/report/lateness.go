package report

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"text/tabwriter"

	"dance.example/slowquick/player/harmless"
	"dance.example/slowquick/player/store"
)

// Latenesses lists the delays that are kept.
func Latenesses(p Page, kept map[string]store.Lateness) {
	table := tabwriter.NewWriter(p, 0, 0, 2, ' ', 0)
	fmt.Fprintln(table, "OUTPUT\tSOUND\tCALLED")
	for _, key := range slices.Sorted(maps.Keys(kept)) {
		called := kept[key].Called
		if output, _, device := strings.Cut(key, "/"); !device {
			called = "any other device of " + output
		}
		fmt.Fprintf(table, "%s\t%s\t%s\n", harmless.Masked(key), kept[key], harmless.Masked(called))
	}
	_ = table.Flush() // the output keeps its error
}
