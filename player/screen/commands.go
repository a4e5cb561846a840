package screen

import (
	"context"

	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/player/screen/dance"
	"dance.example/slowquick/player/screen/handbook"
	"dance.example/slowquick/player/screen/sheetlist"
	"dance.example/slowquick/player/summary"
	"dance.example/slowquick/routine"

	tea "github.com/charmbracelet/bubbletea"
)

// The messages that the commands below bring.
type (
	openedMsg struct {
		visit int
		sheet dance.Sheet
		saved <-chan dance.Sheet
		err   error
	}
	savedMsg struct {
		visit int
		sheet dance.Sheet
	}
	// drilledMsg brings what was asked to be drilled.
	drilledMsg struct {
		visit int
		drill Drill
	}
	// pastMsg tells what was danced of a sheet, for its questions.
	pastMsg struct {
		visit int
		past  *practice.History
	}
	// summaryMsg tells what a session came to.
	summaryMsg struct {
		visit    int
		sections []summary.Section
	}
	soundMsg string
	noteMsg  string
)

// openSheet reads a sheet; visit numbers what is opened.
func openSheet(ctx context.Context, s Shelf, e sheetlist.Entry, visit int) tea.Cmd {
	return func() tea.Msg {
		sheet, saved, err := s.Open(ctx, e)
		return openedMsg{visit, sheet, saved, err}
	}
}

// readDrill finds how to dance a figure over and over.
func readDrill(h Handbook, c *handbook.Chapter, fig *routine.Figure, visit int) tea.Cmd {
	return func() tea.Msg { return drilledMsg{visit, h.Drill(c, fig)} }
}

// sums sums a session up; nil if there is nobody to ask.
func sums(ask func(dance.Over) []summary.Section, over dance.Over, visit int) tea.Cmd {
	if ask == nil {
		return nil
	}
	return func() tea.Msg { return summaryMsg{visit, ask(over)} }
}

// await returns the command that waits for the next value of a channel, which may be nil, and
// makes a message of it.
func await[V any](ctx context.Context, values <-chan V, msg func(V) tea.Msg) tea.Cmd {
	if values == nil {
		return nil
	}
	return func() tea.Msg {
		select {
		case v, ok := <-values:
			if ok {
				return msg(v)
			}
		case <-ctx.Done():
		}
		return nil
	}
}

// awaitSaved waits until the open sheet has been saved.
func awaitSaved(ctx context.Context, saved <-chan dance.Sheet, visit int) tea.Cmd {
	return await(ctx, saved, func(s dance.Sheet) tea.Msg { return savedMsg{visit, s} })
}

// awaitSound waits until the sound has something new to say.
func awaitSound(ctx context.Context, s Sound) tea.Cmd {
	if s == nil {
		return nil
	}
	return await(ctx, s.Changed(), func(struct{}) tea.Msg { return soundMsg(s.Status()) })
}

// awaitNote waits until there is something to tell.
func awaitNote(ctx context.Context, notes <-chan string) tea.Cmd {
	return await(ctx, notes, func(text string) tea.Msg { return noteMsg(text) })
}
