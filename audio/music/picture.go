package music

// OverBar gives the mean strength of the onsets at each place of a bar of a grid: on
// its beats, and at so many places in all of each beat. What is weaker than usual is 0.
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

// OverSong gives the mean strength of the onsets on the beats of a grid, in each of so
// many equal parts of the song. What is weaker than usual is 0.
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
