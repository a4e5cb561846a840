package encoder

// Tags are what a file says about itself. Texts must be one line.
type Tags struct {
	Title, Genre, Comment string
	Tempo                 float64   // beats a minute; 0 for none
	Chapters              []Chapter // in order; the first begins at 0
	End                   float64   // of the last chapter, in seconds
}

// Chapter is a part of the sound that has a name.
type Chapter struct {
	From float64 // seconds
	Name string
}

// end returns where a chapter ends.
func (t *Tags) end(chapter int) float64 {
	if chapter+1 < len(t.Chapters) {
		return t.Chapters[chapter+1].From
	}
	return t.End
}
