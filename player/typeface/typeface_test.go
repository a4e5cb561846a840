package typeface_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"dance.example/slowquick/player/typeface"
)

func TestTheLettersOfSheets(t *testing.T) {
	assert.Empty(t, typeface.Lacks("Natural turn, ½ R · 45° – “señora” straße × 2 → ♀ ♂ ¼ ¾ ⅛ ⅜ ⅝ ⅞ é å ø č ő ł Ω Ж … ← ↑ ↓ −"))
	assert.Empty(t, typeface.Lacks("e\u0301 a\u0308 non\u2011stop"), "accents join their letters, and a hyphen is one")
	assert.Equal(t, "社交ר🕺", typeface.Lacks("Tango 社交社 ר 🕺"))
}

func TestWidths(t *testing.T) {
	regular, mono := typeface.Of(typeface.Regular), typeface.Of(typeface.Mono)
	assert.Equal(t, 2*mono.Width("i"), mono.Width("im"))
	assert.Less(t, regular.Width("i"), regular.Width("m"))
	assert.Equal(t, regular.Width("é"), regular.Width("e\u0301"))
	assert.InDelta(t, regular.Width("ab"), regular.Width("a")+regular.Width("b"), 1e-9)
	assert.Positive(t, regular.Advance('社'), "a box")
}

// TestOutlinesStandOnTheBaseline: an H from 0 to the height of capitals.
func TestOutlinesStandOnTheBaseline(t *testing.T) {
	for s := range typeface.Styles {
		face := typeface.Of(s)
		box := face.Outline('H').Bounds()
		assert.Zero(t, box.Max.Y, face.Name)
		assert.InDelta(t, -face.Capital, float64(box.Min.Y)/64/2048, 0.01, face.Name)
		assert.Less(t, face.Left, face.Right)
		assert.Less(t, face.Bottom, face.Descent+0.05)
		assert.NotEmpty(t, face.Outline('社'), "a box")
	}
}
