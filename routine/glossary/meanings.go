package glossary

import (
	"strings"
	"sync"
)

// groups are the meanings of the words that sheets are written with, as dancers meet them. They are
// common practice, where nothing else is said beside them.
var groups = []group{
	{"steps", "Feet", []Entry{
		{"LF", "left foot"},
		{"RF", "right foot"},
		{"–", "stand still and leave the weight where it is"},
	}},
	{"steps", "Where the foot goes", []Entry{
		{"forward", "step ahead, the way the body faces"},
		{"back", "step backwards"},
		{"side", "step out to the side of this foot"},
		{"diagonally forward", "step halfway between forward and to the side"},
		{"diagonally back", "step halfway between back and to the side"},
		{"close", "bring this foot beside the other one"},
		{"half close", "bring this foot about halfway to the other one"},
		{"cross in front", "cross this foot in front of the other one"},
		{"cross behind", "cross this foot behind the other one"},
		{"cross in front, lock", "cross this foot tightly in front of the other one"},
		{"cross behind, lock", "cross this foot tightly behind the other one"},
		{"replace", "put the weight back on this foot where it stands"},
		{"in place", "step on the spot"},
		{"across", "across the other foot, in front of it"},
		{"slightly", "only a little that way"},
		{"small", "a short step"},
		{"large", "a long step"},
	}},
	{"steps", "Weight", []Entry{
		{"part weight", "put only part of the weight on this foot"},
		{"weight on both feet", "share the weight between both feet; either may step next"},
		{"no weight", "keep the weight off this foot; it is free for the next step"},
	}},
	{"steps", `How far to turn, as in "1/4 R"`, []Entry{
		{"L", "to the left: seen from above, against the clock"},
		{"R", "to the right: seen from above, with the clock"},
		{"1/8", "an eighth of a turn: 45 degrees"},
		{"1/4", "a quarter: 90 degrees"},
		{"3/8", "three eighths: 135 degrees"},
		{"1/2", "half a turn, to face the other way: 180 degrees"},
		{"5/8", "five eighths: 225 degrees"},
		{"3/4", "three quarters: 270 degrees"},
		{"7/8", "seven eighths: 315 degrees"},
		{"1", "once all the way round: 360 degrees"},
		{"after", "turn when the weight has come onto the foot"},
		{"foot", "only the foot turns, the body stays as it was"},
	}},
	{"steps", "What the feet and legs do", []Entry{
		{"check", "stop the movement on this foot, ready to go back"},
		{"swivel", "turn on the ball of this foot, with the weight on it"},
		{"lock", "cross the feet tightly, one behind the other"},
		{"heel turn", "turn on the heel while the other foot closes to it"},
		// As a glossary of a dance school prints it: the foot is drawn back and to the side.
		{"heel pull", "turn on the heel while the other foot is pulled back beside it"},
		{"pivot", "turn on this foot, the other kept in line with it"},
		{"spiral", "turn here until the other leg is wound across this foot"},
		{"spin", "turn fast on this foot"},
		{"twist", "turn with crossed feet, which uncross as you turn"},
		{"rock", "take the weight this way, ready to take it back again"},
		{"lunge", "step onto a well bent knee, the other leg stretched"},
		// As teachers of paso doble show it: a lowering onto the whole foot, on the spot.
		{"appel", "come down sharply on the whole foot, on the spot"},
		{"stamp", "put the foot down so that it is heard"},
		{"press", "press the ball of the foot into the floor, with part of the weight"},
		{"tap", "touch the floor with this foot, without weight"},
		{"brush", "bring this foot to the other, without weight, before it moves on"},
		{"point", "stretch the leg, its toes touching the floor, without weight"},
		{"kick", "swing the free leg out, its foot off the floor"},
		{"flick", "snap the free foot off the floor, from the knee"},
		{"draw", "pull this foot slowly over the floor to the other, without weight"},
		{"hover", "wait, high on the other foot, with this one free"},
		{"hook", "cross this foot tightly behind or in front of the other"},
		{"turned out", "the toes point outwards, the body does not turn"},
		{"bounce", "let the knee give and straighten again"},
		{"across the V", "step where you face, across the open end of the V"},
		{"dig", "touch the floor sharply with this heel or toe, without weight"},
		// As a glossary of round dancing has it (RAL and URDC, October 2001): a circle of the leg; the rest from memory.
		{"rondé", "swing the free leg round in a circle, its toes near the floor"},
		// As glossaries of Argentine tango have them (layuega.com, Hints & Myths about Argentine Tango; uctango.org, Tango vocabulary).
		{"sweep", "move the partner's foot over the floor with this one"},
		{"sacada", "step into the place that the partner's leg is just leaving"},
		{"gancho", "hook this leg round the partner's leg for a moment"},
		{"boleo", "let the free lower leg whip round as the standing foot turns"},
	}},
	{"steps", "What the body does", []Entry{
		{"CBM", "turn the opposite side of the body towards the moving leg"},
		// Wikipedia, Contra body movement position.
		{"CBMP", "place the foot on or across the line of the other foot"},
		{"lower", "come down from the toes and let the knees give"},
		{"rise", "come up through the feet, the legs and the body"},
		// Rise and fall, as technique charts print it (common practice).
		{"lower at end", "come down from the toes as the next step begins"},
		{"rise at end", "come up as the next step begins"},
		{"commence to rise", "begin to come up on this step"},
		{"commence to rise at end", "begin to come up as the next step begins"},
		{"continue to rise", "go on coming up"},
		{"up", "stay high, on the toes"},
		{"body rise", "come up through legs and body only"},
		{"no foot rise", "come up through legs and body, with the heel on the floor"},
		{"sway L", "incline the whole body to the left, without bending it"},
		{"sway R", "incline the whole body to the right, without bending it"},
		{"hip action", "let the hips move as the weight changes"},
		{"under the arm", "go under the raised arms, hands still joined"},
		// In the dancers' own words.
		{"leads", "with what the leader makes clear before this step, in your own words"},
	}},
	{"steps", `Footwork, letter after letter, as in "HT"`, []Entry{
		// Footwork of one part, and letters that mean more than their parts: the trade
		// writes WF for the whole foot (from memory).
		{"H", "on the heel"},
		{"T", "on the toes"},
		{"B", "on the ball of the foot"},
		{"F", "on the flat foot"},
		{"W", "on the whole foot at once"},
		{"WF", "on the whole foot at once"},
		{"IE", "on the inside edge of the foot"},
		{"heel", "on the heel"},
		{"toe", "on the toes"},
		{"ball", "on the ball of the foot"},
		{"flat", "on the flat foot"},
		{"whole foot", "on the whole foot at once"},
		{"inside edge", "on the inside edge of the foot"},
		{"heel toe", "heel first, then toe"},
		{"toe heel", "toe first, then heel"},
		{"heel flat", "heel first, then flat"},
		{"ball flat", "ball first, then flat"},
		{"ball heel", "ball first, then heel"},
		{"toe heel toe", "toe first, then heel, then toe"},
		{"heel toe heel", "heel first, then toe, then heel"},
		{"toe heel heel toe", "toe first, then heel, then heel, then toe"},
	}},
	{"counts", "Beats", []Entry{
		{"1", "on beat 1"},
		{"2", "on beat 2"},
		{"3", "on beat 3"},
		{"4", "on beat 4"},
		{"5", "on beat 5"},
		{"6", "on beat 6"},
		{"7", "on beat 7"},
		{"8", "on beat 8"},
		{"9", "on beat 9"},
		{"10", "on beat 10"},
		{"11", "on beat 11"},
		{"12", "on beat 12"},
		{"4-1", "on beat 4, then wait until beat 1 is over"},
	}},
	{"counts", "Between the beats", []Entry{
		{"&", "and: half a beat after the count before it, in most dances"},
		{"a", "a: in the last quarter of the beat, in most dances"},
		{"e", "e: a quarter of a beat after the count before it"},
	}},
	{"counts", "Slow and quick", []Entry{
		{"S", "slow: twice as long as quick; two beats or one, as the dance has it"},
		{"Q", "quick: half as long as slow; one beat or half a beat"},
	}},
	{"facts", "At the top, between two lines of ---", []Entry{
		{"dance", "the dance, as in dance: cha-cha; the one line that a sheet needs"},
		{"title", "the name of the routine"},
		{"tempo", "how fast it is: 28 bars/min, or 112 beats/min"},
		{"faces", "where the leader faces at the start: wall"},
		{"count", "how it is counted aloud: count, slow/quick or words"},
		{"count language", "the language of the counts: English, German, French, Spanish, Italian"},
		{"lead-in", "how many bars are counted before the dance: 2 bars; one if left out"},
		{"teacher", "who teaches it, for the foot of a handout"},
		{"class", "for which class it is, for the foot of a handout"},
		{"date", "when, for the foot of a handout: 2026-09-04"},
		{"floor", "the size of the floor, along the line of dance and across: 12 x 8 m"},
		{"forward step", "how long your steps forward and back are: 50 cm"},
		{"side step", "how long your steps to the side are: 40 cm"},
		{"short step", "how long your steps on less than a beat are: 25 cm"},
		{"music", "the song, a file in the sheet's folder: song.ogg"},
		{"music begins", "where in the song the dance begins: bar 9"},
		{"phrases", "how many bars the phrases of the song have: 8 8 4"},
		{"highlights", "bars that the screen announces: bar 44, bar 79"},
		{"rhythm", "what the instruments play, in place of the dance's own rhythm"},
		{"rhythm bars", "how many bars the rhythm has before it comes again"},
		{"rhythm source", "where the rhythm is from"},
	}},
	{"facts", "Headings", []Entry{
		{"order", "the figures to dance, as a numbered list"},
	}},
	{"facts", "Above a figure's chart, each behind a dash", []Entry{
		{"starts", "how the figure starts: closed, leader LF free, facing DW"},
		{"ends", "how it ends: open facing; or as started"},
		{"also called", "other names of the figure"},
		{"level", "how hard it is: 1 what lists put first, 2 bronze and silver, 3 gold"},
		{"source", "where the figure is from"},
		{"parts", "the parts that are danced by themselves: 1–3, 4–6 = second half"},
		{"begun", "where the leader of a figure without turns properly faces: DW, LOD"},
		{"family", "international, American, vintage, on 1 or on 2: not to be mixed"},
		{"note", "anything for people to read"},
	}},
	{"facts", "Columns of a chart", []Entry{
		{"Count", "the count on which the step is danced"},
		{"Leader", "the leader's steps"},
		{"Follower", "the follower's steps"},
		{"Step", "the step's number, for people to read"},
		{"Alignment", "where the dancer faces"},
		{"Turn", "how far to turn"},
		{"Rise", "rise and fall"},
		{"Footwork", "which part of the foot touches the floor"},
		{"CBM", "CBM or CBMP, where the step has it"},
		{"Sway", "the side to which the body inclines"},
		{"Position", "the hold or position"},
		{"Note", "anything for people to read"},
	}},
	{"facts", "Below an item of the order, each behind a dash", []Entry{
		{"tempo", "the tempo from here on: 24 bars/min, or 24 to 28 bars/min"},
		{"ends", "the hold in which the figure ends here: open facing"},
		{"count", "how it is counted aloud here: count, slow/quick or words"},
		{"corner", "after, if the next figure goes along the next wall"},
	}},
	{"facts", "At the top, for a dance of your own", []Entry{
		{"metre", "beats in a bar, and their note: 4/4; with it any dance works"},
		{"also called", "other names of the dance"},
		{"begins on", "the count on which figures begin: 2"},
		{"slow", "how many beats S lasts"},
		{"quick", "how many beats Q lasts"},
		{"and", "how much of the beat & takes: 1/2"},
		{"a", "how much of the beat a takes: 1/4"},
		{"numbers", "what numbers count: the beats of a bar, or of a figure"},
		{"phrase", "how many bars a phrase has: 8 bars"},
		{"accents", "the beats that sound louder: [1]"},
		{"words", "how counts are said: \"4 & 1 = cha cha cha\""},
		{"usual", "the usual tempi: 28–32 bars/min"},
		{"usual source", "where they are from"},
		{"competition", "the tempi of competitions: 30–32 bars/min"},
		{"competition source", "where they are from"},
		{"travels", "yes, if couples go round the room"},
		{"family", "international, American, vintage, on 1 or on 2, if all figures are"},
		{"usual start", "where the leader faces if the sheet doesn't say: DW"},
		{"sequences", "figures often danced one after the other: Whisk; Chassé from promenade"},
		{"sequences source", "where they are from"},
		{"step source", "where the lengths of steps are from"},
	}},
	{"positions", `Where a dancer faces, as in "facing wall"`, []Entry{
		{"facing", "the body faces that way"},
		{"backing", "your back is that way"},
		{"pointing", "the foot points that way before the body has turned there"},
	}},
	{"positions", "Directions of the hall, by eighths of a turn", []Entry{
		{"LOD", "line of dance: the way round the room, anticlockwise"},
		{"DW", "diagonally to the wall, along the line of dance"},
		{"wall", "the wall: on your right as you face the line of dance"},
		{"DW against LOD", "diagonally to the wall, against the line of dance"},
		{"against LOD", "the other way round the room"},
		{"DC against LOD", "diagonally to the centre, against the line of dance"},
		{"centre", "the middle of the room: on your left as you face the line of dance"},
		{"DC", "diagonally to the centre, along the line of dance"},
	}},
	{"positions", `Holds and positions, as in "in promenade"`, []Entry{
		// Positions. Which side, and who faces where, is what routine's table has.
		{"closed", "face to face, in a hold with both arms"},
		{"contact", "face to face, with the bodies touching"},
		{"open facing", "face to face at arm's length, with hands held"},
		{"promenade", "in a V that opens to the leader's left; both step that way"},
		{"counter promenade", "in a V that opens to the leader's right; both step that way"},
		{"open promenade", "promenade at arm's length, with hands held"},
		{"open counter promenade", "counter promenade at arm's length, with hands held"},
		{"fallaway", "in the V of promenade, but stepping backwards"},
		{"fan", "follower at the leader's left, a quarter turned, one hand held"},
		{"left side position", "side by side, the follower on the leader's left"},
		{"right side position", "side by side, the follower on the leader's right"},
		{"left shadow", "facing the same way, the follower to the leader's left and close"},
		{"right shadow", "facing the same way, the follower to the leader's right and close"},
		{"left contra", "facing opposite ways, left sides next to each other"},
		{"right contra", "facing opposite ways, right sides next to each other"},
		{"tandem leader behind", "facing the same way, the leader behind the follower"},
		{"tandem follower behind", "facing the same way, the follower behind the leader"},
		{"outside partner", "step past the partner, right side to right side"},
		{"wing", "face to face, but left side to left side"},
		{"back to back", "facing away from each other, back to back"},
		{"apart", "without holding each other"},
		{"left outside partner", "step past the partner, left side to left side"},
		{"tandem follower behind left", "facing the same way, the follower behind the leader's left"},
		{"tandem follower behind right", "facing the same way, the follower behind the leader's right"},
	}},
	{"positions", "Which hands hold, the leader's named first", []Entry{
		{"hands left to right", "the leader's left hand holds the follower's right"},
		{"hands right to left", "the leader's right hand holds the follower's left"},
		{"hands right to right", "right hands joined, as in shaking hands"},
		{"hands left to left", "left hands joined"},
		{"both hands", "each hand holds the partner's hand opposite"},
		{"crossed hands", "right hands joined, and left hands joined below them"},
		{"crossed hands left over right", "left hands joined, and right hands joined below them"},
		{"hammerlock", "both hands joined, one arm bent behind the back"},
		{"wrapped", "both hands joined, the follower wound into the leader's arms"},
		{"hands on shoulders", "hands on the partner's shoulders"},
		{"no hands", "no hands joined"},
	}},
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

// group is a group of the vocabulary as it is written down.
type group struct {
	part, name string
	words      []Entry
}

// meanings returns what the words of steps and positions mean.
var meanings = sync.OnceValue(func() map[string]string {
	all := map[string]string{}
	for _, g := range groups {
		if g.part == "steps" || g.part == "positions" {
			for _, e := range g.words {
				all[e.Word] = e.Meaning
			}
		}
	}
	return all
})

// meaning returns what a word means, or "". What is done to one side, as "swivel R", means the same as
// without it, and the side.
func meaning(text string) string {
	meanings := meanings()
	if m, ok := meanings[text]; ok {
		return m
	}
	for end, side := range map[string]string{" L": "left", " R": "right"} {
		if m := meanings[strings.TrimSuffix(text, end)]; m != "" && strings.HasSuffix(text, end) {
			return m + ": to the " + side
		}
	}
	return ""
}
