package routine

// english is the trade's English: long words as they are written in full, and the short forms of charts,
// scripts and cue sheets (common practice, where no source is beside them).
var english = tongue{
	language: "English",
	source:   "common practice",
	feet: synonyms{
		"LF": {"left foot", "left ft", "l foot", "left leg"},
		"RF": {"right foot", "right ft", "r foot", "right leg"},
		"L":  {"left", "counterclockwise", "counter clockwise", "counter-clockwise", "anticlockwise", "anti clockwise", "anti-clockwise", "ccw", "acw"},
		"R":  {"right", "clockwise", "cw"},
	},
	steps: synonyms{
		"–":                  {"-", "—", "−", "stand", "stands", "stand still", "stands still", "hold", "holds", "wait", "waits", "pause", "pauses", "stay", "stays", "rest", "rests", "no step"},
		"forward":            {"fwd", "fd", "forwards", "forw", "ahead", "walk", "walks", "walk forward", "walk forwards", "walk fwd", "walks forward", "forward walk"},
		"back":               {"bk", "bwd", "bkwd", "bkwds", "bckwd", "bkw", "bw", "backward", "backwards", "walk back", "walk backward", "walk backwards", "walks back", "back walk", "backward walk"},
		"side":               {"sd", "sideways", "sidewards", "aside", "to side", "to the side"},
		"diagonally forward": paired(diagonals, "forwards", "forward", "fwd", "fd"),
		"diagonally back":    paired(diagonals, "backwards", "backward", "back", "bwd", "bkwd", "bk"),
		"close": {"closes", "cl", "together", "tog", "closed beside", "close beside", "closes beside", "beside", "next to", "close next to", "closes next to", "feet together",
			"joins", "join"},
		"half close": {"half closes", "half cl", "almost closes", "almost close"},
		"cross in front": {"crosses in front", "crossed in front", "xif", "cross front", "in front", "crosses front", "cross over", "crosses over", "cross in front of",
			"crosses in front of", "in front of"},
		"cross behind":         {"crosses behind", "crossed behind", "xib", "behind", "cross in back", "hook behind", "hooks behind"},
		"cross behind, lock":   {"lock behind", "locks behind"},
		"cross in front, lock": {"lock in front", "locks in front"},
		"replace":              {"replaces", "recover", "recovers", "rec", "replace weight", "recover weight", "weight back"},
		"in place":             {"on the spot", "on place", "ip", "step in place", "mark time"},
		"across":               {"and across", "acr"},
		"slightly":             {"sl", "slight", "a little", "a bit"},
		"small":                {"sm", "short", "a small", "tiny"},
		"large":                {"long", "big", "lg", "a long", "a large"},
		"no weight":            {"without weight", "no wt", "weightless", "without wt"},
		"part weight":          {"partial weight", "part wt", "half weight"},

		"ball flat": {"ball-flat", "ball/flat"}, "heel toe": {"heel-toe", "heel/toe"}, "toe heel": {"toe-heel", "toe/heel"}, "heel flat": {"heel-flat", "heel/flat"},
		"ball heel": {"ball-heel", "ball/heel"}, "toe heel toe": {"toe-heel-toe"}, "heel toe heel": {"heel-toe-heel"}, "toe heel heel toe": nil,
		"ball": {"on ball"}, "heel": {"on heel"}, "toe": {"toes"}, "flat": {"flat foot"}, "whole foot": {"full foot"}, "inside edge": nil,

		"check":  {"checks", "checking", "checked"},
		"swivel": {"swivels", "swivelling", "swiveling"}, "swivel L": {"swivels left"}, "swivel R": {"swivels right"},
		"lock":      {"locks"},
		"heel turn": nil, "heel pull": nil,
		"pivot": {"pivots", "pivoting"}, "pivot L": {"pivots left"}, "pivot R": {"pivots right"},
		"spiral": {"spirals"}, "spiral L": {"spirals left"}, "spiral R": {"spirals right"},
		"spin": {"spins", "spinning"}, "spin L": {"spins left"}, "spin R": {"spins right"},
		"twist": {"twists", "twisting"}, "twist L": {"twists left"}, "twist R": {"twists right"},
		"rock":  {"rocks", "rocking", "rock step"},
		"lunge": {"lunges"}, "appel": nil, "stamp": {"stamps"},
		"CBM": nil, "CBMP": {"in CBMP"},
		"lower": {"lowers", "lowering"}, "rise": {"rises", "rising"},
		"lower at end":     paired([]string{"lower", "lowers", "lowering"}, "at end of", "at the end", "at the end of", "end of", "e/o", "at e/o"),
		"rise at end":      paired([]string{"rise", "rises", "rising"}, "at end of", "at the end", "at the end of", "end of", "e/o", "at e/o"),
		"commence to rise": {"commences to rise", "start to rise", "starts to rise", "begin to rise", "begins to rise", "commence rise"},
		"commence to rise at end": paired([]string{"commence to rise", "commences to rise", "start to rise", "starts to rise", "begin to rise", "begins to rise", "commence rise"},
			"at end of", "at the end", "at the end of", "end of", "e/o", "at e/o"),
		"continue to rise": {"continues to rise", "cont to rise", "continue rising", "continue rise"}, "up": {"remain up", "stay up", "stays up"},
		"body rise": nil, "no foot rise": {"nfr", "no rise"},
		"sway L": {"sway left", "sway to left"}, "sway R": {"sway right", "sway to right"},
		"hip action": {"hips"}, "under the arm": {"underarm", "under arm"},
		"press": {"presses"}, "tap": {"taps", "touch", "touches"}, "brush": {"brushes"}, "point": {"points"}, "kick": {"kicks"}, "flick": {"flicks"},
		"draw": {"drag", "draws", "drags"}, "hover": {"hovers"},
	},
	amounts: synonyms{
		"1/8": {"eighth", "an eighth", "one eighth", "one-eighth"},
		"1/4": {"quarter", "a quarter", "one quarter", "one-quarter"},
		"3/8": {"three eighths", "three-eighths", "three eighth"},
		"1/2": {"half", "a half", "one half", "one-half"},
		"5/8": {"five eighths", "five-eighths", "five eighth"},
		"3/4": {"three quarters", "three-quarters", "three quarter", "three-quarter"},
		"7/8": {"seven eighths", "seven-eighths", "seven eighth"},
		"1":   {"whole", "full", "a whole", "a full", "one full", "one whole"},
	},
	turning: []string{"turn", "turning", "turns", "turned"},
	toward:  []string{"to", "the", "of", "a", "by", "toward", "towards", "twd", "down", "along"},
	degree:  []string{"degrees", "degree", "deg", "°"},
	joining: []string{"in", "into", "to", "the", "and", "&", "with", "of", "position", "pos", "ending", "on", "onto", "step", "steps", "stepping", "hold"},
	faces: synonyms{
		"facing": {"faces", "face", "fcg", "fc"}, "backing": {"backs", "bkg", "bking"}, "pointing": {"points", "ptg", "pointed"},
		"LOD":            {"line of dance", "down lod", "line", "down line of dance"},
		"DW":             {"diagonal to wall", "diag wall", "diagonal wall", "diag to wall", "diagonally to wall", "diagonally to the wall", "dlw", "dtw", "diagonal to the wall", "diagonal line and wall", "diag line & wall"},
		"wall":           nil,
		"DW against LOD": {"dw against", "diagonal to wall against line of dance", "diagonal to wall against lod", "drw", "diagonal to wall against", "diagonal reverse and wall"},
		"against LOD":    {"alod", "against line of dance", "against", "rlod", "reverse line of dance", "reverse lod"},
		"DC against LOD": {"dc against", "diagonal to centre against line of dance", "diagonal to centre against lod", "diagonal to center against lod", "drc", "diagonal to centre against", "diagonal reverse and centre"},
		"centre":         {"center", "coh", "centre of hall", "center of hall"},
		"DC": {"diagonal to centre", "diagonal to center", "diag centre", "diag center", "diagonal centre", "diagonal center", "diag to centre", "diag to center", "diagonally to centre",
			"diagonally to the centre", "diagonally to center", "dlc", "dtc", "diagonal to the centre", "diagonal line and centre", "diag line & center"},
	},
	holds: synonyms{
		"closed": {"closed hold", "closed facing", "cp", "ballroom hold", "normal hold", "closed dance hold"}, "contact": {"close contact", "body contact"},
		"open facing": {"open", "facing", "op fcg", "open hold", "open facing hold", "facing partner"},
		"promenade":   {"pp"}, "counter promenade": {"cpp", "counterpromenade", "counter-promenade"},
		"open promenade": {"opp", "open pp"}, "open counter promenade": {"open cpp", "ocpp"},
		"fallaway": nil, "fan": nil, "left side": {"left side by side"}, "right side": {"right side by side"}, "left shadow": nil, "right shadow": nil,
		"left contra": nil, "right contra": nil, "tandem leader behind": {"tandem man behind"}, "tandem follower behind": {"tandem lady behind"},
		"outside partner": {"op", "outside"}, "wing": nil, "back to back": {"back-to-back"}, "apart": {"no hold"},
	},
	counts: synonyms{
		"&": {"and", "+", "n"}, "a": {"ah"}, "e": nil, "S": {"slow", "sl"}, "Q": {"quick", "qk"},
		"1": {"one"}, "2": {"two"}, "3": {"three"}, "4": {"four"}, "5": {"five"}, "6": {"six"}, "7": {"seven"}, "8": {"eight"},
		"9": {"nine"}, "10": {"ten"}, "11": {"eleven"}, "12": {"twelve"},
	},
	columns: synonyms{
		"Count":     {"Counts", "Timing", "Time", "Beat", "Beats", "Rhythm", "Music", "Beats and bars"},
		"Leader":    {"Lead", "Leaders", "Leading", "Man", "Mans", "Men", "Mens", "Gent", "Gents", "Gentleman", "Gentlemans", "Gentlemen", "Gentlemens", "He", "Him", "His", "Boy", "Boys", "Lord", "Partner A"},
		"Follower":  {"Follow", "Followers", "Following", "Lady", "Ladys", "Ladies", "Woman", "Womans", "Women", "Womens", "She", "Her", "Hers", "Girl", "Girls", "Partner B"},
		"Step":      {"No", "Nr", "Number", "#", "Step no", "Steps no"},
		"Note":      {"Notes", "Remark", "Remarks", "Comment", "Comments", "Bar", "Bars", "Figure"},
		"Alignment": {"Alignments", "Align", "Direction", "Facing"}, "Turn": {"Amount of turn", "Turns", "Amount"}, "Rise": {"Rise and fall", "Rise & fall", "Rise/fall", "R&F"},
		"Footwork": {"FW", "Foot work"}, "CBM": {"CBM/CBMP"}, "Sway": nil, "Position": {"Positions", "Hold", "Holds"},
	},
	facts: synonyms{
		"starts": {"start", "begins", "begin", "starting", "starts in", "begins in", "commence", "commences", "starting position", "start position", "precede position"},
		"ends":   {"end", "ending", "ends in", "finishes", "finish", "finishing position", "end position", "ending position"},
		"level":  {"grade"}, "source": {"from"}, "also called": {"aka", "also known as", "other names", "other name"}, "note": {"notes", "remark", "remarks"},
	},
	sections: synonyms{
		"order": {"choreography", "routine", "sequence", "running order", "amalgamation", "the order", "figures in order"},
	},
	dances: synonyms{
		"waltz":          {"slow waltz", "English waltz"},
		"Viennese waltz": {"V waltz", "V. W.", "Viennese", "vienna waltz", "old Viennese waltz"},
		"foxtrot":        {"slow foxtrot", "slowfox", "slow fox"}, "quickstep": {"quick"},
		"cha-cha": {"cha cha cha", "cha cha", "chachacha"}, "rumba": {"rhumba"}, "paso doble": {"paso", "double step"},
		"Argentine tango": {"tango argentino", "AT"}, "triple swing": {"ECS", "East Coast swing"}, "single swing": {"single time swing"},
		"West Coast swing": {"WCS", "westie"}, "tango": nil, "jive": nil, "samba": nil, "salsa": nil, "mambo": nil, "bachata": nil, "merengue": nil, "bolero": nil, "hustle": nil,
		"social foxtrot": nil,
	},
}

var diagonals = []string{"diagonally", "diagonal", "diag"}

// paired returns every first word with every second.
func paired(firsts []string, seconds ...string) (all []string) {
	for _, first := range firsts {
		for _, second := range seconds {
			all = append(all, first+" "+second)
		}
	}
	return all
}
