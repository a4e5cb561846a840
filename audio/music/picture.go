package music

// OverBar returns the mean onset strength at each place in the grid's bar, with parts
// places to a beat, the first of them on the beat. Anything weaker than usual is 0.
func (h *Heard) OverBar(g Grid, parts int) []float64 {
	sums, counts := make([]float64, g.Metre*parts), make([]float64, g.Metre*parts)
	beats := g.Seconds()
	for i := range len(beats) - 1 {
		for p := range parts {
			place := (g.Beats[i].Number-1)*parts + p
			time := beats[i] + float64(p)/float64(parts)*(beats[i+1]-beats[i])
			sums[place] += at(h.strength, time*perSecond)
			counts[place]++
		}
	}
	for i := range sums {
		sums[i] = max(sums[i]/max(counts[i], 1), 0)
	}
	return sums
}

// OverSong returns the mean onset strength on the grid's beats in each of parts
// equal parts of the song. Anything weaker than usual is 0.
func (h *Heard) OverSong(g Grid, parts int) []float64 {
	sums, counts := make([]float64, parts), make([]float64, parts)
	for i, s := range g.Seconds() {
		part := int(min(g.Beats[i].Frame*int64(parts)/max(g.Frames, 1), int64(parts-1)))
		sums[part] += at(h.strength, s*perSecond)
		counts[part]++
	}
	for i := range sums {
		sums[i] = max(sums[i]/max(counts[i], 1), 0)
	}
	return sums
}
