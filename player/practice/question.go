package practice

// Question is a question about a sheet. Exactly one of its options, which all differ, is right.
type Question struct {
	Text    string
	Options []string // from 2 to mostOptions
	Right   int      // an index of Options
	Why     []string // of each option, in sentences, why it is right or wrong
	Chart   []Line   // the steps or the lines of the order that it asks about
	Passage int      // the passage it asks about
	Again   bool     // it was answered wrong before
}

// Line is a line of a chart: a count and both partners' steps, or of an order: a number and a figure.
type Line struct {
	Cells []string
	Asked bool // it has the right answer
}
