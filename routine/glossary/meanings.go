package glossary

// meanings are common practice, where nothing else is said beside them.
var meanings = map[string]string{
	// Feet.
	"LF": "left foot",
	"RF": "right foot",
	"–":  "stand still and leave the weight where it is",

	// Ways and sizes.
	"forward":            "step ahead, the way the body faces",
	"back":               "step backwards",
	"side":               "step out to the side of this foot",
	"diagonally forward": "step halfway between forward and to the side",
	"diagonally back":    "step halfway between back and to the side",
	"close":              "bring this foot beside the other one",
	"half close":         "bring this foot about halfway to the other one",
	"cross in front":     "cross this foot in front of the other one",
	"cross behind":       "cross this foot behind the other one",
	"replace":            "put the weight back on this foot where it stands",
	"in place":           "step on the spot",
	"across":             "across the other foot, in front of it",
	"slightly":           "only a little that way",
	"small":              "a short step",
	"large":              "a long step",

	// Weight.
	"part weight":         "put only part of the weight on this foot",
	"weight on both feet": "share the weight between both feet; either may step next",
	"no weight":           "keep the weight off this foot; it is free for the next step",

	// Footwork of one part, and letters that mean more than their parts: the trade
	// writes WF for the whole foot (from memory).
	"H":  "on the heel",
	"T":  "on the toes",
	"B":  "on the ball of the foot",
	"F":  "on the flat foot",
	"W":  "on the whole foot at once",
	"WF": "on the whole foot at once",
	"IE": "on the inside edge of the foot",

	// Alignments.
	"facing":         "the body faces that way",
	"backing":        "your back is that way",
	"pointing":       "the foot points that way before the body has turned there",
	"LOD":            "line of dance: the way round the room, anticlockwise",
	"DW":             "diagonally to the wall, along the line of dance",
	"wall":           "the wall: on your right as you face the line of dance",
	"DW against LOD": "diagonally to the wall, against the line of dance",
	"against LOD":    "the other way round the room",
	"DC against LOD": "diagonally to the centre, against the line of dance",
	"centre":         "the middle of the room: on your left as you face the line of dance",
	"DC":             "diagonally to the centre, along the line of dance",

	// What the body does.
	"CBM": "turn the opposite side of the body towards the moving leg",
	// Wikipedia, Contra body movement position.
	"CBMP":  "place the foot on or across the line of the other foot",
	"lower": "come down from the toes and let the knees give",
	"rise":  "come up through the feet, the legs and the body",
	// Rise and fall, as technique charts print it (common practice).
	"lower at end":            "come down from the toes as the next step begins",
	"rise at end":             "come up as the next step begins",
	"commence to rise":        "begin to come up on this step",
	"commence to rise at end": "begin to come up as the next step begins",
	"continue to rise":        "go on coming up",
	"up":                      "stay high, on the toes",
	"body rise":               "come up through legs and body only",
	"no foot rise":            "come up through legs and body, with the heel on the floor",
	"sway L":                  "incline the whole body to the left, without bending it",
	"sway R":                  "incline the whole body to the right, without bending it",
	"hip action":              "let the hips move as the weight changes",
	"under the arm":           "go under the raised arms, hands still joined",

	// What the feet and legs do.
	"check":     "stop the movement on this foot, ready to go back",
	"swivel":    "turn on the ball of this foot, with the weight on it",
	"lock":      "cross the feet tightly, one behind the other",
	"heel turn": "turn on the heel while the other foot closes to it",
	// As a glossary of a dance school prints it: the foot is drawn back and to the side.
	"heel pull": "turn on the heel while the other foot is pulled back beside it",
	"pivot":     "turn on this foot, the other kept in line with it",
	"spiral":    "turn here until the other leg is wound across this foot",
	"spin":      "turn fast on this foot",
	"twist":     "turn with crossed feet, which uncross as you turn",
	"rock":      "take the weight this way, ready to take it back again",
	"lunge":     "step onto a well bent knee, the other leg stretched",
	// As teachers of paso doble show it: a lowering onto the whole foot, on the spot.
	"appel": "come down sharply on the whole foot, on the spot",
	"stamp": "put the foot down so that it is heard",
	"press": "press the ball of the foot into the floor, with part of the weight",
	"tap":   "touch the floor with this foot, without weight",
	"brush": "bring this foot to the other, without weight, before it moves on",
	"point": "stretch the leg, its toes touching the floor, without weight",
	"kick":  "swing the free leg out, its foot off the floor",
	"flick": "snap the free foot off the floor, from the knee",
	"draw":  "pull this foot slowly over the floor to the other, without weight",
	"hover": "wait, high on the other foot, with this one free",

	"hook":         "cross this foot tightly behind or in front of the other",
	"turned out":   "the toes point outwards, the body does not turn",
	"bounce":       "let the knee give and straighten again",
	"across the V": "step where you face, across the open end of the V",
	"dig":          "touch the floor sharply with this heel or toe, without weight",
	// As a glossary of round dancing has it (RAL and URDC, October 2001): a circle of the leg; the rest from memory.
	"rondé": "swing the free leg round in a circle, its toes near the floor",
	// As glossaries of Argentine tango have them (layuega.com, Hints & Myths about Argentine Tango; uctango.org, Tango vocabulary).
	"sweep":  "move the partner's foot over the floor with this one",
	"sacada": "step into the place that the partner's leg is just leaving",
	"gancho": "hook this leg round the partner's leg for a moment",
	"boleo":  "let the free lower leg whip round as the standing foot turns",

	// What is led, in the dancers' own words.
	"leads": "what the leader makes clear before this step",
	"after": "turn when the weight has come onto the foot",
	"foot":  "only the foot turns, the body stays as it was",

	// Positions. Which side, and who faces where, is what routine's table has.
	"closed":                       "face to face, in a hold with both arms",
	"contact":                      "face to face, with the bodies touching",
	"open facing":                  "face to face at arm's length, with hands held",
	"promenade":                    "in a V that opens to the leader's left; both step that way",
	"counter promenade":            "in a V that opens to the leader's right; both step that way",
	"open promenade":               "promenade at arm's length, with hands held",
	"open counter promenade":       "counter promenade at arm's length, with hands held",
	"fallaway":                     "in the V of promenade, but stepping backwards",
	"fan":                          "follower at the leader's left, a quarter turned, one hand held",
	"left side position":           "side by side, the follower on the leader's left",
	"right side position":          "side by side, the follower on the leader's right",
	"left shadow":                  "facing the same way, the follower to the leader's left and close",
	"right shadow":                 "facing the same way, the follower to the leader's right and close",
	"left contra":                  "facing opposite ways, left sides next to each other",
	"right contra":                 "facing opposite ways, right sides next to each other",
	"tandem leader behind":         "facing the same way, the leader behind the follower",
	"tandem follower behind":       "facing the same way, the follower behind the leader",
	"outside partner":              "step past the partner, right side to right side",
	"wing":                         "face to face, but left side to left side",
	"back to back":                 "facing away from each other, back to back",
	"apart":                        "without holding each other",
	"left outside partner":         "step past the partner, left side to left side",
	"tandem follower behind left":  "facing the same way, the follower behind the leader's left",
	"tandem follower behind right": "facing the same way, the follower behind the leader's right",

	// Hands, the leader's first.
	"hands left to right":           "the leader's left hand holds the follower's right",
	"hands right to left":           "the leader's right hand holds the follower's left",
	"hands right to right":          "right hands joined, as in shaking hands",
	"hands left to left":            "left hands joined",
	"both hands":                    "each hand holds the partner's hand opposite",
	"crossed hands":                 "right hands joined, and left hands joined below them",
	"crossed hands left over right": "left hands joined, and right hands joined below them",
	"hammerlock":                    "both hands joined, one arm bent behind the back",
	"wrapped":                       "both hands joined, the follower wound into the leader's arms",
	"hands on shoulders":            "hands on the partner's shoulders",
	"no hands":                      "no hands joined",
}

// footParts are the letters of footwork as package routine reads them (common practice).
var footParts = []Entry{
	{"IE", "inside edge"},
	{"H", "heel"},
	{"T", "toe"},
	{"B", "ball"},
	{"F", "flat"},
	{"W", "whole foot"},
}

// Entry is a word as charts write it, and what it means: one plain sentence without
// a full stop, at most 70 characters long unless footwork has more than three parts.
type Entry struct{ Word, Meaning string }
