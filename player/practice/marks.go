package practice

import "dance.example/slowquick/routine"

// Marks returns which partners marked a place.
func (n *RunThrough) Marks(at Place) [2]bool { return n.marks[at] }

// AnyMarked reports whether anything was marked.
func (n *RunThrough) AnyMarked() bool { return len(n.marks) > 0 }

// SetMarks sets which partners marked a place that was danced; none takes its marks back.
func (n *RunThrough) SetMarks(at Place, wrong [2]bool) {
	if wrong == [2]bool{} {
		delete(n.marks, at)
		return
	}
	n.marks[at] = wrong
}

// Judge says that some partners have said how all of it went: what they have not marked went well.
func (n *RunThrough) Judge(by ...routine.Partner) {
	for _, p := range by {
		n.judged[p] = true
	}
}

// Last returns a beat in the last event that was danced.
func (n *RunThrough) Last() routine.Beats { return n.to - 1 }

// Places returns the figures that were danced and the joins between them, in order.
func (n *RunThrough) Places() []Place {
	first, danced := Part(n.Timeline, n.Part())
	var places []Place
	for i := range danced {
		if i > 0 {
			places = append(places, Place{Passage: first + i, Join: true})
		}
		places = append(places, Place{Passage: first + i})
	}
	return places
}
