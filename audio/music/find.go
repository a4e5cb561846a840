package music

// Find looks for beats at a tempo in the range r, with metre beats to a bar. In a range
// wider than 1 : 1.5 it may take two beats for three. The grid has no beats if the song has
// hardly any sound. The package comment says how the beats are found.
func (h *Heard) Find(r Range, metre int) Grid {
	f := &finder{Heard: h, metre: metre}
	f.from, f.to = h.sounding()
	if f.to-f.from < 4*60/r.Min { // seconds
		return f.grid(nil)
	}
	l := f.search(r)
	for _, reach := range reaches {
		part, _ := f.likeliest(f.beats(l))
		l.phase += part * l.period
		l = f.fit(l, reach)
	}
	runs, phase := f.runs(l, r)
	bar := f.number(runs)
	g := f.grid(runs)
	g.Phase, g.Bar = phase, bar
	f.doubt(&g)
	return g
}
