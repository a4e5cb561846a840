// Package motion says where a couple's feet and bodies are between steps.
//
// [New] takes a [floor.Path], which knows the couple after each step, and [Motion.At]
// returns the [Scene] at any beat. Places are in centimetres in the hall, as package
// floor has them; angles are in eighths of a turn, clockwise from the first line of
// dance, and count on over a whole turn, so that a turn of 5/8 right is one of five to
// the right and not of three to the left.
//
//   - A foot leaves as late as it may and arrives on its beat. It starts and stops
//     softly, as a reaching hand does (Flash and Hogan, "The coordination of arm
//     movements", Journal of Neuroscience 5, 1985: least jerk).
//   - A foot that stands does not move. It stands where it will be when it next moves,
//     because floor lets a foot that closes take the other one along.
//   - A foot that passes the standing foot goes round it, next to it.
//   - Bodies go through their places on the beats without stopping at each, and never
//     beyond (Fritsch and Butland, "A method for constructing local monotone piecewise
//     cubic interpolants", SIAM Journal on Scientific and Statistical Computing 5, 1984).
//   - Hands are joined as the hold says.
package motion
