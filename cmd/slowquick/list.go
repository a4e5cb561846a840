package main

import (
	"context"

	"dance.example/slowquick/cmd/slowquick/outcome"
	"dance.example/slowquick/player/diary"
	"dance.example/slowquick/player/screen"
	"dance.example/slowquick/player/screen/dance"
	"dance.example/slowquick/player/songs"
)

// showList shows the list of sheets on the screen, or what more begins with.
func (a *app) showList(ctx context.Context, more func(*screen.Options)) error {
	how := a.usual()
	s := a.openStage(ctx, how, false, nil)
	defer a.closeStage(s, how)
	err := a.show(ctx, s, nil, songs.Book{Rate: rate}, how.PauseAfter, func(o *screen.Options, _ *diary.Writer) {
		o.Dancers, o.Count, o.Look.Pictures, o.Look.View = how.Dancers, how.Count, how.Pictures, how.View
		o.Stage = func(l dance.Sheet) dance.Transport {
			set, _ := how.Settings(l.Timeline) // what there is of settings that can't be danced is left out
			return s.Put(l.Timeline, set)
		}
		more(o)
	})
	return outcome.Failed(err, "slowquick dance SHEET --plain works without a screen")
}
