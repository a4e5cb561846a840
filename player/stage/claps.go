package stage

import (
	"context"
	"errors"
	"math"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/audio/claps"
	"dance.example/slowquick/audio/device"
	"dance.example/slowquick/player"
	"dance.example/slowquick/player/timing"
)

// Ear listens for claps beside what the stage plays. What it hears stays in memory, and goes with it.
type Ear struct {
	mic   *device.Microphone
	stage *Stage
}

// Listen begins to listen for claps. The error is in plain words.
func (s *Stage) Listen(ctx context.Context) (*Ear, error) {
	mic, err := device.Listen(ctx, s.from.Rate, s.line.Heard, s.from.Guard)
	if err != nil {
		return nil, errors.New(device.Plainly(err))
	}
	return &Ear{mic, s}, nil
}

const (
	// airUnsure is by how much the sound's way through the air makes claps uncertain if our own sound is
	// heard beside them: a metre takes 3 ms.
	airUnsure = 0.005
	// earUnsure is how late a microphone may be that only the devices tell of, as with headphones: from
	// memory.
	earUnsure = 0.020
)

// Claps returns when there were claps while a plan was performed, in seconds by what was heard, and by how
// much they may all be wrong.
func (e *Ear) Claps(plan *timing.Plan) (at []float64, unsure float64, err error) {
	take, err := e.mic.Take()
	if err != nil {
		return nil, 0, errors.New(device.Plainly(err))
	}
	engine := audio.NewEngine(e.stage.from.Rate)
	engine.Play(plan)
	song := plan.Backing()
	song.Plan(int64(plan.End))
	engine.Accompany(song, player.MusicLayer)
	engine.SetLevels(0, e.stage.desk.Levels())
	own, err := take.Played(engine)
	if err != nil {
		return nil, 0, err
	}
	rate := float64(e.stage.from.Rate)
	found := claps.Find(take.Samples, own, e.stage.from.Rate)
	for _, sample := range found.At {
		// What comes out of the loudspeaker late is heard late, and so are the claps that keep to it.
		at = append(at, (take.At(sample)-found.Delay)/rate)
	}
	unsure = math.Hypot(math.Hypot(earUnsure, e.stage.Unsure()), take.Error/rate)
	if found.Own {
		unsure = airUnsure
	}
	return at, unsure, nil
}

// Close ends listening.
func (e *Ear) Close() { e.mic.Close() }
