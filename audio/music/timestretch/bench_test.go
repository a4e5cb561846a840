package timestretch_test

import (
	"math"
	"runtime"
	"sync"
	"testing"
	"time"

	"dance.example/slowquick/audio/music/timestretch"
)

// minute is a minute of music, made once.
var minute = sync.OnceValue(func() timestretch.Sound { return music(tuningSeeds[0], 60) })

// timesReal reports how many times faster than it plays a sound of that many
// frames was processed.
func timesReal(b *testing.B, frames int) {
	b.ReportMetric(float64(frames)/rate*float64(b.N)/b.Elapsed().Seconds(), "×real")
}

func BenchmarkHear(b *testing.B) {
	s := minute()
	for b.Loop() {
		newSong(b, s)
	}
	timesReal(b, len(s.Frames))
}

func BenchmarkPlan(b *testing.B) {
	source := newSong(b, minute())
	for b.Loop() {
		atSpeed(b, source, 0.75)
	}
	timesReal(b, int(source.Len()))
}

func BenchmarkRender(b *testing.B) {
	s := atSpeed(b, newSong(b, minute()), 0.75)
	frames := make([][2]float64, 512)
	for b.Loop() {
		for at := int64(0); at < s.End(); at += 512 {
			s.Render(frames, at)
		}
	}
	timesReal(b, int(s.End()))
}

// BenchmarkSlow measures everything, from a sound to the stretched samples.
func BenchmarkSlow(b *testing.B) {
	frames := make([][2]float64, 512)
	n := 0
	for b.Loop() {
		s := atSpeed(b, newSong(b, minute()), 0.75)
		n = int(s.End())
		for at := int64(0); at < s.End(); at += 512 {
			s.Render(frames, at)
		}
	}
	timesReal(b, n)
}

// BenchmarkSixMinutes reports how much memory a stretched song of six minutes
// holds, its samples included, and the peak while it is made.
func BenchmarkSixMinutes(b *testing.B) {
	piece := minute()
	heap := func() float64 {
		var m runtime.MemStats
		runtime.GC()
		runtime.ReadMemStats(&m)
		return float64(m.HeapAlloc) / (1 << 20)
	}
	before := heap()
	for b.Loop() {
		s := timestretch.Sound{Rate: rate, Frames: make([][2]int16, 0, 6*len(piece.Frames))}
		for range 6 {
			s.Frames = append(s.Frames, piece.Frames...)
		}
		most, stop := 0.0, make(chan struct{})
		var watching sync.WaitGroup
		watching.Go(func() {
			tick := time.NewTicker(5 * time.Millisecond)
			defer tick.Stop()
			for {
				var m runtime.MemStats
				runtime.ReadMemStats(&m)
				most = max(most, float64(m.HeapAlloc)/(1<<20)-before)
				select {
				case <-stop:
					return
				case <-tick.C:
				}
			}
		})
		st := atSpeed(b, newSong(b, s), 0.75)
		close(stop)
		watching.Wait()
		b.ReportMetric(heap()-before, "MB-held")
		b.ReportMetric(most, "MB-most")
		if st.End() == math.MaxInt64 {
			b.Fatal("it never ends")
		}
	}
}
