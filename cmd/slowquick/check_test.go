package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// faulty is a sheet with 5,000 steps without a foot and one count that is none.
func faulty(t *testing.T) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "lantern.md")
	text := "---\ndance: cha-cha\n---\n\n## Order\n\n1. Lantern step\n\n## Lantern step\n\n| Count | Leader |\n|-------|--------|\n| third | LF side |\n" +
		strings.Repeat("| 1 | side |\n", 5000)
	require.NoError(t, os.WriteFile(path, []byte(text), 0o600))
	return path
}

// TestManyFindingsOfAKindAreCounted in what people read; programs get all of them.
func TestManyFindingsOfAKindAreCounted(t *testing.T) {
	path := faulty(t)
	var out, errs strings.Builder
	assert.Equal(t, exitFindings, run([]string{"check", path}, strings.NewReader(""), &out, &errs))
	assert.Equal(t, 50, strings.Count(out.String(), "[foot-missing]\n"))
	assert.Equal(t, 1, strings.Count(out.String(), "[count-unreadable]\n"))
	assert.Contains(t, out.String(), ": and 4950 more of this kind [foot-missing]; check --json lists them all\n")

	out.Reset()
	assert.Equal(t, exitFindings, run([]string{"check", "--json", path}, strings.NewReader(""), &out, &errs))
	var reports []struct{ Findings []struct{ Code string } }
	require.NoError(t, json.Unmarshal([]byte(out.String()), &reports))
	require.Len(t, reports, 1)
	assert.Len(t, reports[0].Findings, 5001)
	assert.Empty(t, errs.String())
}

// endless is input that never ends.
type endless struct{ read int }

func (e *endless) Read(p []byte) (int, error) {
	clear(p)
	e.read += len(p)
	return len(p), nil
}

// TestAnEndlessSheetIsRefused after a little of it was read.
func TestAnEndlessSheetIsRefused(t *testing.T) {
	var before, after runtime.MemStats
	var out, errs strings.Builder
	in := &endless{}
	runtime.ReadMemStats(&before)
	assert.Equal(t, exitFindings, run([]string{"check", "-"}, in, &out, &errs))
	runtime.ReadMemStats(&after)
	assert.Contains(t, out.String(), "standard input:1:1: error: the sheet is larger than 1 MiB [too-large]\n")
	assert.LessOrEqual(t, in.read, 4<<20)
	assert.Less(t, after.TotalAlloc-before.TotalAlloc, uint64(64<<20))
}
