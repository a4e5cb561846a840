package routine

// Range is how far a turn may vary: from From, the farthest to the left, to To, the farthest to the right. The
// zero Range is that of a turn which doesn't vary.
type Range struct{ From, To Turn }

// Varies reports whether there is more than one amount in r.
func (r Range) Varies() bool { return r.From < r.To }

// Text returns a turn that may vary as charts write it, its usual amount first: "1/4 to 3/8 R", or, if that lies
// between, "1/4 R (1/8 to 3/8)".
func (r Range) Text(usual Turn) string {
	if !r.Varies() {
		return usual.String()
	}
	first, last, side := r.From, r.To, ""
	switch {
	case r.From >= 0:
		side = " R"
	case r.To <= 0:
		first, last, side = r.To, r.From, " L"
	}
	amount := func(t Turn) string {
		switch {
		case t == 0:
			return "0"
		case side != "":
			return max(t, -t).amount()
		}
		return t.String()
	}
	switch usual {
	case first:
	case last:
		first, last = last, first
	default:
		return amount(usual) + side + " (" + amount(first) + " to " + amount(last) + ")"
	}
	return amount(first) + " to " + amount(last) + side
}
