package routine

// Music is what a sheet says about the song it is danced to. The zero value says nothing.
type Music struct {
	File string // with slashes, within the sheet's folder; "" for none
	At   Span   // where the sheet says so
	Bar  int    // the bar of the song, from 1, with which the dance begins; 0 for the first after the introduction

	// Phrases are the lengths of the song's phrases, from where the dance begins; after the last they
	// repeat. Empty if they are the dance's usual ones.
	Phrases []Beats
	// Highlights are beats counted from where the dance begins, ascending.
	Highlights []Beats
}

// Phrase returns the phrase of the song in which a beat lies: its number, from 1, and its first beat
// and end. Phrases before beat 0 are as long as the first and count down from 0.
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
	return number, from, from + phrases[0] // unreachable: the phrases add up to all
}
