package screen

import (
	"context"
	"time"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/player/screen/sheetlist"

	tea "github.com/charmbracelet/bubbletea"
)

// The messages that the commands below bring.
type (
	openedMsg struct {
		visit  int
		entry  sheetlist.Entry
		loaded Loaded
		saved  <-chan Loaded
		err    error
	}
	savedMsg struct {
		visit  int
		loaded Loaded
	}
	soundMsg  string
	noteMsg   string
	levelsMsg struct {
		visit, number int
		levels        audio.Levels
	}
	tickMsg int
)

// wake brings a tickMsg of this number after a time.
func wake(after time.Duration, number int) tea.Cmd {
	return tea.Tick(after, func(time.Time) tea.Msg { return tickMsg(number) })
}

// openSheet reads a sheet; visit numbers what is opened.
func openSheet(ctx context.Context, s Shelf, e sheetlist.Entry, visit int) tea.Cmd {
	return func() tea.Msg {
		loaded, saved, err := s.Open(ctx, e)
		return openedMsg{visit, e, loaded, saved, err}
	}
}

// awaitSaved waits until the open sheet has been saved.
func awaitSaved(ctx context.Context, saved <-chan Loaded, visit int) tea.Cmd {
	if saved == nil {
		return nil
	}
	return func() tea.Msg {
		select {
		case loaded, ok := <-saved:
			if ok {
				return savedMsg{visit, loaded}
			}
		case <-ctx.Done():
		}
		return nil
	}
}

// awaitSound waits until the sound has something new to say.
func awaitSound(ctx context.Context, s Sound) tea.Cmd {
	if s == nil {
		return nil
	}
	return func() tea.Msg {
		select {
		case _, ok := <-s.Changed():
			if ok {
				return soundMsg(s.Status())
			}
		case <-ctx.Done():
		}
		return nil
	}
}

// awaitNote waits until there is something to tell.
func awaitNote(ctx context.Context, notes <-chan string) tea.Cmd {
	if notes == nil {
		return nil
	}
	return func() tea.Msg {
		select {
		case text, ok := <-notes:
			if ok {
				return noteMsg(text)
			}
		case <-ctx.Done():
		}
		return nil
	}
}

// setLevels changes the levels and brings what they have become. The change
// itself is asked for at once, so that changes keep their order; the messages
// may not, which is why they are numbered.
func setLevels(ctx context.Context, t Transport, visit, number int, f func(audio.Levels) audio.Levels) tea.Cmd {
	became := make(chan audio.Levels, 1)
	t.Level(func(l audio.Levels) audio.Levels {
		l = f(l)
		became <- l
		return l
	})
	return func() tea.Msg {
		select {
		case l := <-became:
			return levelsMsg{visit, number, l}
		case <-ctx.Done():
		}
		return nil
	}
}
