package main

import (
	"context"

	"dance.example/slowquick/cmd/slowquick/flags"
	"dance.example/slowquick/cmd/slowquick/outcome"
	"dance.example/slowquick/player/diary"
	"dance.example/slowquick/player/screen"
	"dance.example/slowquick/player/screen/dance"
	"dance.example/slowquick/player/songs"
)

// showList shows the list of sheets on the screen, or what more begins with.
func (a *app) showList(ctx context.Context, more func(*screen.Options)) error {
	chosen := a.choices()
	s := a.openStage(ctx, flags.Dance{Call: chosen.NamesAloud}, false, nil)
	defer a.closeStage(s)
	err := a.show(ctx, s, nil, songs.Book{Rate: rate}, chosen.PauseAfter, func(o *screen.Options, _ *diary.Writer) {
		o.Stage = func(l dance.Sheet) dance.Transport { return s.Put(l.Timeline, l.Timeline.Settings()) }
		more(o)
	})
	return outcome.Failed(err, "slowquick dance SHEET --plain works without a screen")
}
