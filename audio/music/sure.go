package music

// What it takes to be sure, chosen with the songs that are learnt from, drums alone, and speech.
const (
	fewestBars  = 8     // less is too little to tell where bars begin
	fewestBeats = 32    // and so are fewer beats
	mostlyStill = 0.005 // how little the harmony of drums alone changes from bar to bar; a song's changes thrice as much
	plain       = 2.5   // the strength of beats that need no other evidence
	alikeBeats  = 0.45  // how alike beats in a row are, of which each is heard; in speech they are less
)

// doubt takes back a margin that rests on too little. Bars need some bars and some harmony: to
// drums alone nobody can tell. Beats that are no stronger than a sentence's, which someone says
// again and again, must be alike, or have bars.
func (f *finder) doubt(g *Grid) {
	if len(g.Beats) < max(fewestBars*g.Metre, fewestBeats) || f.turns(*g) < mostlyStill {
		g.Bar = 0
	}
	if g.Strength < plain && g.Bar < sureBar && f.alikeBeats(g.Seconds()) < alikeBeats {
		g.Phase = 0
	}
}

// turns returns how much the harmony changes from bar to bar.
func (f *finder) turns(g Grid) float64 {
	sum, n := 0.0, 0.0
	for i, x := range f.harmony.changes(g.Seconds(), g.Metre) {
		if g.Beats[i].Number == 1 && x > 0 {
			sum, n = sum+x, n+1
		}
	}
	return sum / max(n, 1)
}

// alikeBeats returns how alike the onsets of each beat and the next are: their correlation, as a
// part of the largest between beats up to sixteen apart.
func (f *finder) alikeBeats(beats []float64) float64 {
	const parts, furthest = 12, 16
	var over []float64 // the strengths over each beat
	for i := range max(len(beats)-1, 0) {
		for p := range parts {
			over = append(over, at(f.strength, (beats[i]+float64(p)/parts*(beats[i+1]-beats[i]))*perSecond))
		}
	}
	alike := func(apart int) float64 {
		sum, square := 0.0, 1e-9
		for i := range max(len(over)-parts*apart, 0) {
			sum, square = sum+over[i]*over[i+parts*apart], square+over[i]*over[i]
		}
		return sum / square
	}
	most := 1e-9
	for apart := 1; apart <= furthest; apart++ {
		most = max(most, alike(apart))
	}
	return alike(1) / most
}
