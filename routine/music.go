package routine

// Music is what a sheet says of the song that it is danced to. The zero value is
// nothing.
type Music struct {
	File string // with slashes, within the sheet's folder; "" for none
	At   Span   // where the sheet says so
	Bar  int    // of the song, from 1, with which the dance begins; 0 for the first after the introduction

	// Phrases are how long those of the song are, from where the dance begins; after
	// the last they begin again. None if they are as the dance's usually are.
	Phrases []Beats
	// Highlights are where they are, from where the dance begins, ascending.
	Highlights []Beats
}

// Phrase is the phrase of a song that a beat lies in: which, from 1, and from where to
// where it lasts. Before the dance begins there are phrases as the first.
func (s *Score) Phrase(at Beats) (number int, from, to Beats) {
	phrases := s.Music.Phrases
	if len(phrases) == 0 {
		phrases = []Beats{Beats(max(s.Dance.PhraseBars, 1)) * s.Dance.Metre.Bar()}
	}
	var all Beats
	for _, p := range phrases {
		all += p
	}
	if at < 0 {
		from := at.Floor(phrases[0])
		return int(from/phrases[0]) + 1, from, from + phrases[0]
	}
	from = at.Floor(all)
	number = int(from/all) * len(phrases)
	for _, p := range phrases {
		number++
		if from+p > at {
			return number, from, from + p
		}
		from += p
	}
	return number, from, from + phrases[0] // not reached: the phrases fill the round
}
