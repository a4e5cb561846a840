package main

import "fmt"

// firstStart shows the cautions until they were seen once.
type firstStart struct {
	app *app
	err error // why it can't be kept that they were; they are shown again
}

// seenCautions is the choice under which it is kept.
const seenCautions = "cautions seen"

// cautioning gives what is to be called when the cautions have been seen, and what
// tells, when the screen is gone, that this could not be kept. seen is nil if they were
// seen before.
func (a *app) cautioning() (seen, after func()) {
	kept, _ := readKept("choices") // they show again where that can't be read
	if kept[seenCautions] != 0 {
		return nil, func() {}
	}
	f := &firstStart{app: a}
	return f.seen, f.after
}

func (f *firstStart) seen() {
	if keptFile("choices") != "" {
		f.err = keep("choices", map[string]float64{seenCautions: 1})
	}
}

func (f *firstStart) after() {
	if f.err != nil {
		f.app.warn(f.err)
	}
}

// printCautions prints them if they were never seen.
func (a *app) printCautions() {
	seen, after := a.cautioning()
	if seen == nil {
		return
	}
	fmt.Fprintln(a.err, cautions)
	seen()
	after()
}
