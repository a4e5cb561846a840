package tapping

import (
	"context"

	"github.com/muesli/termenv"

	"dance.example/slowquick/player/screen/caution"
	"dance.example/slowquick/player/screen/program"
	"dance.example/slowquick/player/screen/term"
	"dance.example/slowquick/player/timing"
)

// Run shows the screen until the dancer leaves it, and returns what was measured last; ok is false if
// nothing was. The cautions come first, and seen is called once they were read; if it is nil, they are
// left out.
func Run(ctx context.Context, o Options, seen func(), with program.Options) (r timing.Result, ok bool, err error) {
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	o.Theme = term.NewTheme(!termenv.EnvNoColor())
	last, err := program.Run(ctx, caution.Before(New(ctx, o), seen, o.Theme), with)
	m, begun := last.(Model)
	if err != nil || !begun {
		return timing.Result{}, false, err
	}
	m.Stop() // in case it was ended from outside
	r, ok = m.Result()
	return r, ok, nil
}
