package term_test

import (
	"testing"

	"dance.example/slowquick/player/screen/term"
	"github.com/stretchr/testify/assert"
)

func TestBars(t *testing.T) {
	assert.Equal(t, "", term.Bar(0, 10))
	assert.Equal(t, "█████", term.Bar(0.5, 10))
	assert.Equal(t, "▏", term.Bar(0.0125, 10))
	assert.Equal(t, "█▉", term.Bar(0.1875, 10))
	assert.Equal(t, "█", term.Bar(1, -3), "a terminal too narrow for it")
}
