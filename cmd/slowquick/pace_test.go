//go:build unix

package main

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// paced are command lines whose pace is kept.
var paced = []string{
	"check lantern-night-cha-cha",
	"figures --dance waltz --json",
	"figures --dance waltz --after whisk",
	"figure --dance waltz natural turn",
	"compose --dance rumba --bars 16 --seed 7",
	"practise lantern-night-waltz --list",
	"write handout lantern-night-waltz -o -",
	"write handout lantern-night-waltz -o - --format pdf",
	"write plan lantern-night-waltz -o -",
	"write timeline lantern-night-waltz -o -",
	"write midi lantern-night-waltz -o -",
	"write wav lantern-night-rumba -o - --figures 1 --aloud --rhythm",
}

const paceFile = "testdata/pace.txt"

// mostSlower is how many times what is kept a command may take.
const mostSlower = 4.0 / 3

// BenchmarkPace compares how much of a processor commands take with what a fixed task takes in the same run, which is much
// the same on each machine. It fails if one takes a third more than is kept; -update keeps what they take now.
func BenchmarkPace(b *testing.B) {
	b.Setenv("XDG_STATE_HOME", b.TempDir())
	b.Setenv("XDG_CONFIG_HOME", b.TempDir())
	for b.Loop() {
		took := pace(b)
		if *update {
			keepPace(b, took)
		}
		kept := keptPace(b)
		if slower := slices.ContainsFunc(paced, func(line string) bool { return took[line] > kept[line]*mostSlower }); slower {
			for line, again := range pace(b) { // something else may have kept the machine busy
				took[line] = min(took[line], again)
			}
		}
		for _, line := range paced {
			b.Logf("%-70s %6.2f times the task, %.2f of what is kept", line, took[line], took[line]/kept[line])
			assert.LessOrEqual(b, took[line], kept[line]*mostSlower, "%s takes longer than it did; if that is meant, -update keeps it", line)
		}
	}
}

// pace returns how much each command line takes, in parts of what the task takes just before and after it: the median of
// some rounds, as what else the machine does slows both.
func pace(b *testing.B) map[string]float64 {
	const rounds = 9
	parts := map[string][]float64{}
	for range rounds {
		before := processor(b, task)
		for _, line := range paced {
			took := processor(b, func() {
				var errs bytes.Buffer
				require.Equal(b, exitOK, run(strings.Fields(line), strings.NewReader(""), io.Discard, &errs), errs.String())
			})
			after := processor(b, task)
			parts[line] = append(parts[line], float64(2*took)/float64(before+after))
			before = after
		}
	}
	median := map[string]float64{}
	for line, p := range parts {
		slices.Sort(p)
		median[line] = p[rounds/2]
	}
	return median
}

// task is what others are compared with: it makes strings, looks them up and sorts them.
func task() {
	const lanterns = 30_000
	found := map[string]int{}
	var names []string
	for i := range lanterns {
		name := strconv.Itoa(i * 7919 % lanterns)
		found[name]++
		names = append(names, name)
	}
	slices.Sort(names)
	if len(found) != lanterns || names[0] != "0" {
		panic("7919 and 30 000 have a divisor")
	}
}

// processor returns how long f keeps processors busy.
func processor(b *testing.B, f func()) time.Duration {
	runtime.GC() // what was made before isn't f's
	before := busy(b)
	f()
	return busy(b) - before
}

// busy returns how long this program has kept processors busy.
func busy(b *testing.B) time.Duration {
	var use syscall.Rusage
	require.NoError(b, syscall.Getrusage(syscall.RUSAGE_SELF, &use))
	return time.Duration(use.Utime.Nano() + use.Stime.Nano())
}

// keepPace keeps what commands take.
func keepPace(b *testing.B, took map[string]float64) {
	var text strings.Builder
	for _, line := range paced {
		fmt.Fprintf(&text, "%.2f %s\n", took[line], line)
	}
	require.NoError(b, os.WriteFile(paceFile, []byte(text.String()), 0o644))
}

// keptPace returns what commands took.
func keptPace(b *testing.B) map[string]float64 {
	text, err := os.ReadFile(paceFile)
	require.NoError(b, err)
	kept := map[string]float64{}
	for row := range strings.Lines(string(text)) {
		parts, line, _ := strings.Cut(strings.TrimSpace(row), " ")
		kept[line], err = strconv.ParseFloat(parts, 64)
		require.NoError(b, err)
	}
	require.Len(b, kept, len(paced))
	return kept
}
