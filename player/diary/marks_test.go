package diary_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/routine"
)

// TestAMarkIsTakenBackInTheDiary: its place is then neither wrong nor clean, whatever the figure is called
// by now, and other marks stay.
func TestAMarkIsTakenBackInTheDiary(t *testing.T) {
	d := fresh(t)
	marked := pass(evening(0), 112, "Basic", "Oar turn", "Basic")
	marked.Marks = []practice.Mark{{Place: 0, Partner: routine.Leader}, {Place: 1, Partner: routine.Follower}, {Place: 2, Partner: routine.Leader}}
	renamed := pass(evening(1), 112, "Jetty turn")
	renamed.Danced[0].Figure.Steps, renamed.Judged = figure("Oar turn").Steps, [2]bool{}
	keep(t, d.Begin(lantern, evening(0)), marked, renamed)
	marks, err := d.Marks()
	require.NoError(t, err)
	require.Len(t, marks, 2)
	assert.Equal(t, practice.OpenMark{Piece: practice.Piece{Figure: figure("Basic")}, Partner: routine.Leader, Tempo: 112 * routine.BeatPerMinute,
		At: evening(0), Times: 1}, marks[0])
	assert.Equal(t, "Jetty turn", marks[1].Figure.Name)

	marks[1].Figure = figure("Oar turn") // as a sheet may still have it
	n, err := d.TakeBack(marks[1])
	require.NoError(t, err)
	assert.Equal(t, 1, n)
	n, err = d.TakeBack(marks[1])
	require.NoError(t, err)
	assert.Zero(t, n, "it is no longer open")
	left, err := d.Marks()
	require.NoError(t, err)
	assert.Equal(t, marks[:1], left)
	list, err := d.Figures()
	require.NoError(t, err)
	assert.Equal(t, "Jetty turn", list[0].Name)
	assert.Zero(t, list[0].Marks)
	assert.Zero(t, list[0].Clean[routine.Follower])
	n, err = d.TakeBack(marks[0])
	require.NoError(t, err)
	assert.Equal(t, 2, n)
}
