package timestretch_test

import (
	"flag"
	"math"
	"math/cmplx"
	"slices"
	"sync"
	"testing"

	"dance.example/slowquick/audio/music/timestretch"
	"dance.example/slowquick/testdata/thorough"
	"pgregory.net/rapid"
)

// short returns some seconds of music, made once.
var short = sync.OnceValue(func() timestretch.Sound { return music(4711, 5) })

// TestMain has each random test draw a tenth of the usual cases, unless it is thorough
// or -rapid.checks says how many.
func TestMain(m *testing.M) {
	if !thorough.Asked() {
		if err := flag.Set("rapid.checks", "10"); err != nil {
			panic(err)
		}
	}
	m.Run()
}

func TestFullSpeedIsTheRecording(t *testing.T) {
	s := short()
	if got := rendered(atSpeed(t, newSong(t, s), 1)); !slices.Equal(got, wave(s)) {
		t.Error("the sound differs from the recording")
	}
}

func TestAnyLengthsGiveTheSameSamples(t *testing.T) {
	source := newSong(t, short())
	for _, speed := range []float64{0.6, 1.15} {
		s := atSpeed(t, source, speed)
		want := rendered(s)
		rapid.Check(t, func(t *rapid.T) {
			at := rapid.Int64Range(0, s.End()).Draw(t, "at")
			for _, n := range rapid.SliceOfN(rapid.IntRange(1, 700), 1, 30).Draw(t, "lengths") {
				frames := make([][2]float64, n)
				s.Render(frames, at)
				for i, f := range frames {
					if k := at + int64(i); k < s.End() && f != want[k] || k >= s.End() && f != [2]float64{} {
						t.Fatalf("frame %d is %v", k, f)
					}
				}
				at += int64(n)
			}
		})
	}
}

func TestPlanningInPartsIsPlanningAtOnce(t *testing.T) {
	t.Parallel()
	source := newSong(t, short())
	want := rendered(atSpeed(t, source, 0.7))
	rapid.Check(t, func(t *rapid.T) {
		s, err := source.Stretch(steady(timestretch.Anchor{}, 0.7))
		if err != nil {
			t.Fatal(err)
		}
		for done, to := false, int64(0); !done; {
			to += rapid.Int64Range(1, 200_000).Draw(t, "more")
			done = s.Plan(to)
			if !done && s.Planned() < to {
				t.Fatalf("planned to %d, wanted %d", s.Planned(), to)
			}
			from := max(0, s.Planned()-1000)
			frames := make([][2]float64, s.Planned()-from)
			s.Render(frames, from)
			if !slices.Equal(frames, want[from:s.Planned()]) {
				t.Fatalf("different samples before frame %d", s.Planned())
			}
		}
	})
}

// tempi draws tempi with pieces of 0.2 to 1 s.
func tempi(t *rapid.T, from timestretch.Anchor, length int64) timestretch.Tempo {
	tempo := timestretch.Tempo{from}
	for from.In < length || len(tempo) < 2 {
		in := rapid.Int64Range(rate/5, rate).Draw(t, "in")
		speed := rapid.Float64Range(0.5, 1.2).Draw(t, "speed")
		from = timestretch.Anchor{In: from.In + in, Out: from.Out + int64(float64(in)/speed)}
		tempo = append(tempo, from)
	}
	return tempo
}

func TestOutInvertsIn(t *testing.T) {
	t.Parallel()
	sound, _ := denseAttacks(5)
	sparse, dense := newSong(t, short()), newSong(t, sound)
	rapid.Check(t, func(t *rapid.T) {
		source := sparse
		if rapid.Bool().Draw(t, "dense") {
			source = dense
		}
		s, err := source.Stretch(tempi(t, timestretch.Anchor{}, source.Len()))
		if err != nil {
			t.Fatal(err)
		}
		s.Plan(math.MaxInt64)
		last := -1.0
		for out := int64(0); out < s.End(); out += 37 {
			in := s.In(float64(out))
			if in <= last {
				t.Fatalf("frame %d lies at %.2f, %d at %.2f", out, in, out-37, last)
			}
			last = in
			if back := s.Out(in); math.Abs(back-float64(out)) > 1e-3 {
				t.Fatalf("from %d to %.3f and back to %.3f", out, in, back)
			}
		}
	})
}

// TestTheMapIsTrue compares the sound with the recording through the map. Where
// the map moves by one frame per frame, the samples must be the same; and it
// must do so for a quarter of the time or more.
func TestTheMapIsTrue(t *testing.T) {
	source, was := newSong(t, short()), wave(short())
	for _, speed := range []float64{0.75, 0.9, 1.1} {
		s := atSpeed(t, source, speed)
		is := rendered(s)
		step := 0
		for out := range is[1 : len(is)-1] {
			in := s.In(float64(out))
			if s.In(float64(out+1))-in != 1 || in != math.Trunc(in) {
				continue
			}
			step++
			if is[out] != was[int(in)] {
				t.Fatalf("%.2f: frame %d is %v, but frame %.0f of the song is %v", speed, out, is[out], in, was[int(in)])
			}
		}
		if least := 0.25 * float64(len(is)); float64(step) < least {
			t.Errorf("%.2f: only %d frames of %d are heard once", speed, step, len(is))
		}
	}
}

func TestAttacksAreNeverRepeatedNorSkipped(t *testing.T) {
	r := random(judgingSeeds[0])
	train, at := clickTrain(r, 20)
	source := newSong(t, train.recorded(0))
	for _, speed := range []float64{0.5, 0.6, 0.75, 1.2} {
		s := atSpeed(t, source, speed)
		for _, second := range at {
			in := second * rate
			for k := 0.0; k < rate/100; k += 20 {
				if got := s.Out(in+k) - s.Out(in); math.Abs(got-k) > 1e-6 {
					t.Fatalf("%.2f: %.0f frames of the click at %.3f s take %.2f", speed, k, second, got)
				}
			}
		}
	}
}

// TestBeatsLieWhereTheTempoSays straightens a recording with uneven beats and slows
// it. A beat must be within 3 ms of its place if there is a click on it, within 12
// ms if there is only a held chord, and within 15 ms among clicks elsewhere.
func TestBeatsLieWhereTheTempoSays(t *testing.T) {
	t.Parallel()
	seeds := judgingSeeds
	if !thorough.Asked() {
		seeds = seeds[:1]
	}
	for _, c := range []struct {
		name         string
		first, last  float64 // seconds after a beat at which there are clicks
		apart, bound float64 // seconds, ms
	}{
		{"on the beat", 0, 0, 1, 3},
		{"none", 1, 0, 1, 12},
		{"between", 0.11, 0.45, 0.17, 15},
	} {
		var most float64
		n := 0
		for _, seed := range seeds {
			r := random(seed)
			s := newSound(24)
			s.bed(chord(r))
			tempo := timestretch.Tempo{{}}
			in := 0.4
			for k := range 40 {
				for after := c.first; after <= c.last; after += c.apart {
					s.add(in+after, 0, click(2000, 0.5))
				}
				tempo = append(tempo, timestretch.Anchor{In: int64(in * rate), Out: int64((0.6 + 0.75*float64(k)) * rate)})
				in += uniform(r, 0.53, 0.57)
			}
			st := planned(t, newSong(t, s.recorded(0)), tempo)
			for _, a := range tempo[1:] {
				n++
				most = max(most, math.Abs(st.Out(float64(a.In))-float64(a.Out))*1000/rate)
			}
		}
		t.Logf("clicks %s: %d beats, furthest %.2f ms", c.name, n, most)
		if most > c.bound {
			t.Errorf("clicks %s: a beat is %.1f ms from its place, want %.0f", c.name, most, c.bound)
		}
	}
}

// denseAttacks returns a sound with clicks about every 110 ms, every fourth of
// them on a beat.
func denseAttacks(seconds float64) (sound timestretch.Sound, beats []float64) {
	r := random(judgingSeeds[0])
	s := newSound(seconds)
	s.bed(chord(r))
	at := 0.4
	for n := 0; at < seconds-0.5; n++ {
		s.add(at, 0, click(uniform(r, 1000, 3000), uniform(r, 0.3, 0.6)))
		if n%4 == 0 {
			beats = append(beats, at)
		}
		at += uniform(r, 0.085, 0.135)
	}
	return s.recorded(0), beats
}

// TestBeatsKeepTheirPlaceAmongAttacks slows a sound whose attacks are so dense
// that there is little between them to repeat.
func TestBeatsKeepTheirPlaceAmongAttacks(t *testing.T) {
	sound, beats := denseAttacks(16)
	source := newSong(t, sound)
	for _, speed := range []float64{0.5, 0.6, 0.75} {
		tempo := timestretch.Tempo{{}}
		for _, b := range beats {
			tempo = append(tempo, timestretch.Anchor{In: int64(b * rate), Out: int64(b * rate / speed)})
		}
		st := planned(t, source, tempo)
		var most float64
		for _, a := range tempo[1:] {
			most = max(most, math.Abs(st.Out(float64(a.In))-float64(a.Out))*1000/rate)
		}
		t.Logf("%.2f: %d beats, furthest %.2f ms", speed, len(beats), most)
		if most > 10 {
			t.Errorf("%.2f: a beat is %.1f ms from its place, want 10", speed, most)
		}
	}
}

// TestOddSounds stretches sounds without attacks, and sounds with nothing else.
func TestOddSounds(t *testing.T) {
	each := func(seconds float64, f func(i int) [2]int16) timestretch.Sound {
		s := timestretch.Sound{Rate: rate, Frames: make([][2]int16, int(seconds*rate))}
		for i := range s.Frames {
			s.Frames[i] = f(i)
		}
		return s
	}
	tone := func(i int) int16 { return int16(30000 * math.Sin(2*math.Pi*441.7*float64(i)/rate)) }
	r := random(judgingSeeds[0])
	for name, s := range map[string]timestretch.Sound{
		"empty":           {Rate: rate},
		"one frame":       {Rate: rate, Frames: [][2]int16{{32767, -32768}}},
		"30 ms":           each(0.03, func(i int) [2]int16 { return [2]int16{tone(i), tone(i)} }),
		"silence":         each(3, func(int) [2]int16 { return [2]int16{} }),
		"constant":        each(3, func(int) [2]int16 { return [2]int16{20000, 20000} }),
		"least sample":    each(3, func(int) [2]int16 { return [2]int16{math.MinInt16, math.MinInt16} }),
		"square, loud":    each(3, func(i int) [2]int16 { return [2]int16{int16(65535*(i/50%2) - 32768), 32767} }),
		"noise, loud":     each(3, func(int) [2]int16 { return [2]int16{int16(r.IntN(65536) - 32768), int16(r.IntN(65536) - 32768)} }),
		"out of phase":    each(3, func(i int) [2]int16 { return [2]int16{tone(i), -tone(i)} }),
		"left only":       each(3, func(i int) [2]int16 { return [2]int16{tone(i), 0} }),
		"8000 frames/s":   {Rate: 8000, Frames: each(1, func(i int) [2]int16 { return [2]int16{tone(i), tone(i)} }).Frames},
		"192000 a second": {Rate: 192000, Frames: each(6, func(i int) [2]int16 { return [2]int16{tone(i), tone(i)} }).Frames},
	} {
		t.Run(name, func(t *testing.T) {
			for _, speed := range []float64{0.5, 0.8, 1.2} {
				st := atSpeed(t, newSong(t, s), speed)
				want := float64(len(s.Frames)) / speed
				if diff := math.Abs(float64(st.End()) - want); diff > 0.06*float64(s.Rate) {
					t.Errorf("%.2f: %d frames, want %.0f", speed, st.End(), want)
				}
				largest := 0.0
				for i, f := range rendered(st) {
					for _, v := range f {
						if !(math.Abs(v) <= 1) {
							t.Fatalf("%.2f: frame %d is %v", speed, i, f)
						}
						largest = max(largest, math.Abs(v))
					}
					if name == "out of phase" && f[0] != -f[1] {
						t.Fatalf("%.2f: frame %d is %v", speed, i, f)
					}
				}
				if name == "silence" && largest > 0 {
					t.Errorf("%.2f: silence sounds", speed)
				}
			}
		})
	}
}

// TestTonesAreNotTorn checks that no step between neighbouring frames is larger
// than the tone's own, even if the channels are out of phase or the tempo changes.
func TestTonesAreNotTorn(t *testing.T) {
	for _, pitch := range []float64{98.3, 441.7, 1234.5} {
		s := timestretch.Sound{Rate: rate, Frames: make([][2]int16, 6*rate)}
		for i := range s.Frames {
			v := int16(16000 * math.Sin(2*math.Pi*pitch*float64(i)/rate))
			s.Frames[i] = [2]int16{v, -v}
		}
		source := newSong(t, s)
		steepest := 16000.0 / 32768 * 2 * math.Sin(math.Pi*pitch/rate)
		at := timestretch.Anchor{}
		tempo := timestretch.Tempo{at}
		for _, speed := range []float64{0.8, 0.6, 1.1, 0.75} {
			at = timestretch.Anchor{In: at.In + int64(speed*rate), Out: at.Out + rate}
			tempo = append(tempo, at)
		}
		frames := rendered(planned(t, source, tempo))
		for i := rate / 10; i < len(frames)-rate/10; i++ {
			if d := math.Abs(frames[i][0] - frames[i-1][0]); d > 1.1*steepest+1e-4 {
				t.Fatalf("%.1f Hz: a step of %.4f at frame %d, the tone has %.4f at most", pitch, d, i, steepest)
			}
		}
	}
}

func TestStartInTheMiddle(t *testing.T) {
	source := newSong(t, short())
	s := planned(t, source, steady(timestretch.Anchor{In: 2 * rate, Out: 1000}, 0.8))
	frames := rendered(s)
	for i, f := range frames[:1000] {
		if f != [2]float64{} {
			t.Fatalf("frame %d, before the beginning, is %v", i, f)
		}
	}
	if was := wave(short())[2*rate:][:100]; !slices.Equal(frames[1000:1100], was) {
		t.Error("it does not begin at its place in the recording")
	}
	if in := s.In(1000); in != 2*rate {
		t.Errorf("it begins at frame %.1f", in)
	}
	if want := 1000 + float64(source.Len()-2*rate)/0.8; math.Abs(float64(s.End())-want) > rate/20 {
		t.Errorf("it ends at %d, want %.0f", s.End(), want)
	}
}

// TestTwoGoroutinesRenderAndPlan renders while another goroutine plans ahead.
// Rendering must not allocate, and the race detector must find nothing.
func TestTwoGoroutinesRenderAndPlan(t *testing.T) {
	source := newSong(t, short())
	s, err := source.Stretch(steady(timestretch.Anchor{}, 0.7))
	if err != nil {
		t.Fatal(err)
	}
	ahead := make(chan int64)
	var planning sync.WaitGroup
	planning.Go(func() {
		for to := int64(0); !s.Plan(to); to += rate / 4 {
			ahead <- s.Planned()
		}
		close(ahead)
	})
	frames := make([][2]float64, 512)
	at := int64(0)
	for to := range ahead {
		for ; at+512 <= to; at += 512 {
			s.Render(frames, at)
		}
		s.In(float64(at))
		s.Out(float64(at))
	}
	planning.Wait()
	if n := testing.AllocsPerRun(100, func() {
		s.Render(frames, at%(4*rate))
		s.In(float64(at))
		s.Out(float64(at))
		at += 512
	}); n > 0 {
		t.Errorf("%.0f allocations", n)
	}
}

func TestInvalidTempi(t *testing.T) {
	source := newSong(t, short())
	for name, tempo := range map[string]timestretch.Tempo{
		"no anchor":      nil,
		"one anchor":     {{}},
		"before frame 0": {{In: -1}, {In: 10, Out: 11}},
		"standing still": {{}, {In: 0, Out: 10}},
		"too slow":       {{}, {In: 100, Out: 300}},
		"too fast":       {{}, {In: 100, Out: 130}, {In: 200, Out: 190}},
		"beyond the end": steady(timestretch.Anchor{In: source.Len() + 1}, 1),
	} {
		if _, err := source.Stretch(tempo); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
	if _, err := timestretch.New(timestretch.Sound{Rate: timestretch.MinRate - 1}); err == nil {
		t.Error("a rate too low: no error")
	}
}

func TestTempoInInvertsOut(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tempo := tempi(t, timestretch.Anchor{In: 100, Out: 50}, 10*rate)
		in := rapid.Float64Range(0, 20*rate).Draw(t, "in")
		if back := tempo.In(tempo.Out(in)); math.Abs(back-in) > 1e-3 {
			t.Fatalf("%.3f comes back as %.3f", in, back)
		}
		for _, a := range tempo {
			if out := tempo.Out(float64(a.In)); math.Abs(out-float64(a.Out)) > 1e-6 {
				t.Fatalf("the anchor %v is at %.3f", a, out)
			}
		}
	})
}

// TestPartialsNeverVanish slows tones without a common period, which no jump
// can keep in phase all at once. None may vanish for a moment and come back.
func TestPartialsNeverVanish(t *testing.T) {
	t.Parallel()
	r := random(judgingSeeds[0])
	var pitches []float64
	for k := range 12 {
		pitches = append(pitches, 200+120*float64(k)+uniform(r, 0, 50))
	}
	s := newSound(6)
	s.bed(pitches)
	source := newSong(t, s.recorded(0))
	for _, speed := range []float64{0.6, 0.75, 1.2} {
		frames := rendered(atSpeed(t, source, speed))
		for _, pitch := range pitches {
			least, most := levelsOf(frames, pitch)
			t.Logf("%.2f: the level of %.0f Hz is %.2f to %.2f", speed, pitch, least, most)
			if least < 0.7 || most > 1.3 {
				t.Errorf("%.2f: the level of %.0f Hz is %.2f to %.2f", speed, pitch, least, most)
			}
		}
	}
}

// levelsOf returns the least and greatest level of one of bed's tones over 40
// ms, relative to what it should be.
func levelsOf(frames [][2]float64, pitch float64) (least, most float64) {
	const window, step = rate / 25, rate / 200
	var tone [window]complex128 // the tone under a window
	for i := range tone {
		w := 1 - math.Cos(2*math.Pi*float64(i)/window)
		tone[i] = cmplx.Rect(w*2.0/window/0.05, -2*math.Pi*pitch*float64(i)/rate)
	}
	least = math.Inf(1)
	for from := rate / 2; from+window < len(frames)-rate/2; from += step {
		var sum complex128
		for i, t := range tone {
			sum += complex(frames[from+i][0], 0) * t
		}
		least, most = min(least, cmplx.Abs(sum)), max(most, cmplx.Abs(sum))
	}
	return least, most
}
