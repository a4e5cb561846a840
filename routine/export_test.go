package routine

// Parse reads a sheet whose order is not danced through.
func Parse(name string, src []byte, book Book) (*Sheet, []Finding) {
	s, f := parse(name, src, book)
	return s, f.sorted()
}

// ParseStep reads the cell of one step, as far as it can be read.
func ParseStep(text string) (Step, []Finding) {
	f := &findings{src: newSource([]byte(text))}
	s := f.step(stretch{0, len(text)})
	return s, f.sorted()
}

// Check gives what Read finds.
func Check(name string, src []byte, book Book) []Finding {
	_, found := Read(name, src, book)
	return found
}
