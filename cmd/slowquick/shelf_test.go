package main

import (
	"io"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/player/screen/sheetlist"
	"dance.example/slowquick/player/sheets"
)

// TestASheetThatCanNotBeReadIsNotOpened, even if that is the program's own fault.
func TestASheetThatCanNotBeReadIsNotOpened(t *testing.T) {
	a := printsOn(io.Discard, io.Discard)
	a.Ctx = t.Context() // without a library, in which any sheet looks for its dance
	d := sheets.Document{Name: "open.md", Path: "open.md", Text: []byte("---\ndance: cha-cha\n---\n\n## Order\n\n1. Closed basic\n")}
	_, saved, err := shelf{app: a, given: &d}.Open(t.Context(), sheetlist.Entry{ID: d.Name})
	require.Error(t, err)
	assert.Contains(t, err.Error(), "this program failed: ")
	assert.Nil(t, saved)
}
