// Package floor works out where both partners' feet and bodies are after each
// step, and whether the two parts fit each other and the room.
//
// [Trace] dances a score and returns its [Path]; [Check] reports what does not
// fit. Directions and turns are package routine's, which knows them exactly; this
// package adds places, in centimetres. It draws nothing.
//
// A chart says which way a foot goes but not how far, and partners who hold each
// other fit their steps together. So:
//
//   - A step first has the dance's usual length, which a sheet may override. It
//     starts from the body over the standing foot, after any turn on that foot,
//     and its way is seen from where the body then faces; a side step's that turns
//     more than a quarter, from earlier in the turn. "Replace" goes back to where
//     the foot stands, "close" beside the other foot. Where a foot points,
//     the body turns an eighth less and completes its turn on the next step, also
//     of the next figure; a partner who holds it and turns alike does the same.
//   - A position fixes the difference between the partners' directions, and a
//     region: how near or far the follower's body may be, and between which
//     bearings, as the leader sees it.
//   - Where a position holds, whatever is missing to its region is spread over the
//     steps since the last one, in proportion to how much each may vary: one
//     standard deviation is about a fifth of its length. If two deviations are
//     not enough, the place is missed, and that is a finding.
//   - A body hold lasts while the couple steps. If both turn alike they go round
//     each other, which is allowed on top; when one stays on the spot, the other
//     goes all the way round. A hand hold lets them walk together,
//     past each other or apart; it is judged where it is named, and at the end of
//     the figure. Either way, partners use the reach that is left to come back to
//     where they usually stand.
//   - In promenade and other V positions, forward and open side steps go along the
//     open end of the V, whatever each partner faces.
//
// Each passage is traced from the couple that begins it, so a Path keeps only
// those couples, and [Path.Passage] traces one passage again. Places are relative
// to the first line of dance; a corner turns the line of dance, not the couple.
//
// TestTheSharpnessOfThePlaces measures how sharp this is: of the follower's
// forward and back steps that are reversed, it finds about two thirds in figures
// that begin in closed hold, and a quarter of those danced in a hand hold.
package floor
