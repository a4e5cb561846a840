package library_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/routine"
)

// counted returns when an instrument sounds, as musicians count it: bars separated by "|",
// a beat by its number, and a place within it as "+" and a fraction of the beat, as in
// "2 2+1/2 | 1".
func counted(d *routine.Dance, instrument string) string {
	bars := make([][]string, d.Rhythm.Bars)
	for _, s := range d.Rhythm.Strokes {
		if s.Instrument != instrument {
			continue
		}
		bar, in := s.At/d.Metre.Bar(), s.At%d.Metre.Bar()
		text := fmt.Sprint(int64(in/routine.Beat) + 1)
		if part := in % routine.Beat; part > 0 {
			text += "+" + part.String()
		}
		bars[bar] = append(bars[bar], text)
	}
	var lines []string
	for _, bar := range bars {
		lines = append(lines, strings.Join(bar, " "))
	}
	return strings.Join(lines, " | ")
}

func TestRhythmsAsTheTradeCountsThem(t *testing.T) {
	const (
		// The son clave's strokes 1, 2&, 4 and 2, 3 in two bars: encyclopaedia.
		clave = "2 3 | 1 2+1/2 4"
		// Swing ride 1, 2, 2⅔, 3, 4, 4⅔: from memory.
		ride = "1 2 2+2/3 3 4 4+2/3"
	)
	lib := shipped()
	for _, test := range []struct{ dance, instrument, counts, source string }{
		{"cha-cha", "claves", clave, "encyclopaedia; claves 2–3 in cha-cha: percussion page"},
		{"cha-cha", "guiro long", "1 3 | 1 3", "percussion page and a published pattern, which agree"},
		{"cha-cha", "guiro short", "2 2+1/2 4 4+1/2 | 2 2+1/2 4 4+1/2", "percussion page and a published pattern, which agree"},
		{"cha-cha", "cowbell", "1 2 3 4 | 1 2 3 4", "percussion page: on the beats"},
		{"cha-cha", "conga open", "4 4+1/2 | 4 4+1/2", "percussion page: tumbao, opens on 4 and 4 &"},
		{"cha-cha", "conga slap", "2 | 2", "percussion page: tumbao, slap on 2"},
		{"cha-cha", "bass", "1 2+1/2 4 | 1 2+1/2 4", "encyclopaedia: tresillo 3+3+2"},
		{"rumba", "claves", clave, "encyclopaedia; that it suits the ballroom rumba, from memory"},
		{"rumba", "conga open", "4 4+1/2 | 4 4+1/2", "percussion page: tumbao"},
		{"rumba", "maracas", "1 1+1/2 2 2+1/2 3 3+1/2 4 4+1/2 | 1 1+1/2 2 2+1/2 3 3+1/2 4 4+1/2", "from memory"},
		{"rumba", "bass", "1 3 4 | 1 3 4", "from memory: bass of a bolero"},
		{"salsa", "claves", clave, "encyclopaedia"},
		{"salsa", "conga slap", "2 | 2", "percussion page: tumbao"},
		{"salsa", "conga open", "4 4+1/2 | 4 4+1/2", "percussion page: tumbao"},
		{"salsa", "conga muted", "1 1+1/2 2+1/2 3 3+1/2 | 1 1+1/2 2+1/2 3 3+1/2", "percussion page: palm, tip, tip, palm, tip"},
		{"salsa", "bass", "2+1/2 4 | 2+1/2 4", "from memory: bass on 2 & and 4"},
		{"mambo", "claves", clave, "encyclopaedia"},
		{"mambo", "conga slap", "2 | 2", "percussion page: tumbao"},
		{"bachata", "bongo low", "4", "two pages on the percussion of bachata: the low drum on 4"},
		{"bachata", "guiro short", "1 1+1/2 2 2+1/2 3 3+1/2 4 4+1/2", "two pages on the percussion of bachata: guira on every half beat"},
		{"bachata", "bass", "1 2+1/2 3 4", "a page on the bass of bachata"},
		{"merengue", "cowbell", "1 3", "a published pattern by one arranger"},
		{"merengue", "bass drum", "1 2 3 4", "teachers' pages: a drum on every beat"},
		{"bolero", "conga open", "4 4+1/2", "percussion page: tumbao"},
		{"bolero", "bass", "1 3 4", "from memory: bass of a bolero"},
		{"hustle", "bass drum", "1 2 3 4", "from memory: on every beat"},
		{"hustle", "snare", "2 4", "from memory"},
		{"west coast swing", "hat closed", ride, "from memory"},
		{"triple swing", "hat closed", ride, "from memory"},
		{"single swing", "snare", "2 4", "from memory"},
		{"samba", "surdo muted", "1", "textbook on samba drums: soft on 1"},
		{"samba", "surdo open", "1+3/4 2", "textbook on samba drums: the a before 2, strong on 2"},
		{"samba", "snare", "1 1+3/4 2 2+3/4", "1 a 2 as ¾ ¼: exam-theory notes; the part from memory"},
		{"jive", "snare", "2 4", "published jive drum pattern"},
		{"jive", "hat closed", "1 1+3/4 2 2+3/4 3 3+3/4 4 4+3/4", "published jive drum pattern: each beat and its last quarter"},
		{"waltz", "bass", "1", "published waltz drum pattern"},
		{"waltz", "brush snare", "2 3", "published waltz drum pattern"},
		{"waltz", "hat closed", "2 3", "published waltz drum pattern"},
		{"viennese waltz", "bass", "1", "published waltz drum pattern"},
		{"viennese waltz", "brush snare", "2 3", "published waltz drum pattern"},
		{"tango", "bass", "1 1+1/2 2 2+1/2", "musicians' pages on marcato: four staccato strokes"},
		{"argentine tango", "bass", "1 1+1/2 2 2+1/2", "musicians' pages on marcato: four staccato strokes"},
		{"argentine tango", "brush snare", "1 1+3/4 2 2+1/2", "from memory: habanera"},
		{"social foxtrot", "bass", "1 3", "from memory"},
		{"social foxtrot", "hat closed", ride, "from memory"},
		{"paso doble", "bass drum", "1 2", "from memory, as in a march"},
		{"paso doble", "snare", "1+1/2 2+1/2", "from memory, as in a march"},
		{"foxtrot", "bass", "1 3", "from memory"},
		{"foxtrot", "brush snare", "2 4", "from memory"},
		{"foxtrot", "hat closed", ride, "from memory"},
		{"quickstep", "bass drum", "1 3", "from memory"},
		{"quickstep", "snare", "2 4", "from memory"},
		{"quickstep", "hat closed", ride, "from memory"},
	} {
		d, ok := lib.Dance(test.dance)
		require.True(t, ok, test.dance)
		assert.Equal(t, test.counts, counted(d, test.instrument), "%s: %s (%s)", test.dance, test.instrument, test.source)
	}
}

// TestEveryDanceHasARhythm: it has two to five instruments, stays within its bars, names
// its source, and marks the first beat.
func TestEveryDanceHasARhythm(t *testing.T) {
	lib := shipped()
	require.NotEmpty(t, lib.Dances())
	for _, name := range lib.Dances() {
		d, ok := lib.Dance(name)
		require.True(t, ok, name)
		r := d.Rhythm
		require.NotEmpty(t, r.Strokes, name)
		assert.NotEmpty(t, r.Source, name)
		assert.Contains(t, []int{1, 2}, r.Bars, name)
		assert.Zero(t, r.Strokes[0].At, name)
		assert.Less(t, r.Strokes[len(r.Strokes)-1].At, routine.Beats(r.Bars)*d.Metre.Bar(), name)
		players := map[string]bool{}
		for _, s := range r.Strokes {
			player, _, _ := strings.Cut(s.Instrument, " ")
			if player == "bass" {
				player = s.Instrument // and bass drum
			}
			players[player] = true
		}
		assert.GreaterOrEqual(t, len(players), 2, name)
		assert.LessOrEqual(t, len(players), 5, name)
	}
}

// TestRhythmsAccentWhatDancersHear: in each bar the rhythm accents exactly the beats that
// the dance accents.
func TestRhythmsAccentWhatDancersHear(t *testing.T) {
	lib := shipped()
	for _, name := range lib.Dances() {
		d, ok := lib.Dance(name)
		require.True(t, ok, name)
		accents := make([][]int, d.Rhythm.Bars)
		for _, s := range d.Rhythm.Strokes {
			if !s.Accent {
				continue
			}
			bar, in := s.At/d.Metre.Bar(), s.At%d.Metre.Bar()
			assert.Zero(t, in%routine.Beat, "%s: %s is accented between two beats", name, s.Instrument)
			if beat := int(in/routine.Beat) + 1; !slices.Contains(accents[bar], beat) {
				accents[bar] = append(accents[bar], beat)
			}
		}
		for bar := range accents {
			assert.Equal(t, d.Accents, accents[bar], "%s, bar %d", name, bar+1)
		}
	}
}

// TestABandPlaysEveryInstrument: the band has a sound for every instrument a rhythm may
// use, and for no other.
func TestABandPlaysEveryInstrument(t *testing.T) {
	band := audio.NewBand(44100)
	known := routine.Instruments()
	for _, name := range known {
		assert.NotEmpty(t, band[name], name)
	}
	for name := range band {
		assert.Contains(t, known, name)
	}
	lib := shipped()
	for _, name := range lib.Dances() {
		d, ok := lib.Dance(name)
		require.True(t, ok, name)
		for _, s := range d.Rhythm.Strokes {
			assert.NotEmpty(t, band[s.Instrument], "%s: %s", name, s.Instrument)
		}
	}
}

// loudestTogether returns the largest sum of peaks of strokes that fall on the same moment
// of a rhythm.
func loudestTogether(band audio.Band, r routine.Rhythm) (loudest float64) {
	sums := map[routine.Beats]float64{}
	for _, s := range r.Strokes {
		peak := 0.0
		for _, x := range band[s.Instrument] {
			peak = max(peak, max(float64(x), -float64(x)))
		}
		sums[s.At] += peak
		loudest = max(loudest, sums[s.At])
	}
	return loudest
}

// TestRhythmsLeaveHeadroom: even if simultaneous strokes all peak on the same frame, they
// stay below full scale.
func TestRhythmsLeaveHeadroom(t *testing.T) {
	band := audio.NewBand(44100)
	lib := shipped()
	for _, name := range lib.Dances() {
		d, ok := lib.Dance(name)
		require.True(t, ok, name)
		assert.Less(t, loudestTogether(band, d.Rhythm), 1.0, name)
	}
}

// TestAccentsAreThoseOfPages: the beats that sound louder.
func TestAccentsAreThoseOfPages(t *testing.T) {
	lib := shipped()
	for _, test := range []struct {
		dance   string
		accents []int
		source  string
	}{
		{"cha-cha", []int{1}, "dancesportplace.com, Cha Cha Music: strong on 1; tanssi.org, Cha cha cha"},
		{"jive", []int{2, 4}, "IDTA Associate Theory, Jive, freezingblue.com"},
		{"samba", []int{2}, "IDTA Associate Theory, Samba, freezingblue.com"},
		{"paso doble", []int{1}, "youllbefinewithniall.co.uk, International Latin Paso Doble"},
	} {
		d, ok := lib.Dance(test.dance)
		require.True(t, ok, test.dance)
		assert.Equal(t, test.accents, d.Accents, "%s (%s)", test.dance, test.source)
	}
}
