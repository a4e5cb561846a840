package report

import (
	"maps"
	"slices"
	"strings"

	"dance.example/slowquick/player/harmless"
	"dance.example/slowquick/player/store"
)

// Latenesses lists the delays that are kept.
func Latenesses(p Page, kept map[string]store.Lateness) {
	rows := [][]string{{"OUTPUT", "SOUND", "CALLED"}}
	for _, key := range slices.Sorted(maps.Keys(kept)) {
		called := kept[key].Called
		if output, _, device := strings.Cut(key, "/"); !device {
			called = "any other device of " + output
		}
		rows = append(rows, []string{harmless.Masked(key), kept[key].String(), harmless.Masked(called)})
	}
	p.print(rows, 2)
}
