package routine

import (
	"slices"
	"strings"
)

// Explanation says what a code means, with the shortest sheet that has the finding and the same sheet
// without it.
type Explanation struct {
	Severity Severity `json:"severity"`
	Why      string   `json:"why"`
	Bad      string   `json:"bad"`
	Good     string   `json:"good"`
}

// Explain returns the explanation of a code; ok is false if there is no such code.
func Explain(code Code) (Explanation, bool) {
	e, ok := explanations[code]
	return e, ok
}

// Codes returns every code, sorted.
func Codes() []Code {
	var codes []Code
	for c := range explanations {
		codes = append(codes, c)
	}
	slices.Sort(codes)
	return codes
}

// Parts of the examples.
const (
	chaHead   = "---\ndance: cha-cha\n---\n"
	songHead  = "---\ndance: cha-cha\nmusic: lantern.ogg\n---\n"
	songOrder = "## Order\n\n1. Lantern step\n2. Quay step\n3. Lantern step\n"
	chaOrder  = "## Order\n\n1. Lantern step\n\n"
	waltzTop  = "---\ndance: waltz\n---\n\n## Order\n\n"
	columns   = "\n| Count | Leader | Follower |\n|:-----:|--------|----------|\n"
	chasse    = "|   4   | LF side | RF side |\n|   &   | RF close | LF close |\n|   1   | LF side | RF side |\n"
	twoThree  = "|   2   | LF forward | RF back |\n|   3   | RF replace | LF replace |\n"
	lantern   = "## Lantern step\n" + columns + twoThree + chasse
	back      = "\n## Quay step\n" + columns + quayRows
	good      = chaHead + chaOrder + lantern
)

// figureOf returns a figure's section with its facts, if any, and the rows of its chart.
func figureOf(name, facts, rows string) string {
	if facts != "" {
		facts = "\n" + facts
	}
	return "## " + name + "\n" + facts + columns + rows
}

// with returns a sheet that dances a Lantern step with these rows.
func with(rows string) string { return told("", rows) }

// told returns a sheet whose Lantern step has these facts and rows.
func told(facts, rows string) string {
	return chaHead + chaOrder + figureOf("Lantern step", facts, rows)
}

// ranged returns a sheet of a turn that may vary.
func ranged(leader string) string {
	return waltzTop + "1. Jetty turn\n" + strings.NewReplacer("1/4 R,", leader+",", "3/8 R,", "3/8 R (1/4 to 1/2),").Replace(waltzStep)
}

// replaced returns the good sheet with its first old replaced by new.
func replaced(old, new string) string { return strings.Replace(good, old, new, 1) }

// roundRoom returns a sheet of a dance that travels, on a floor of a size. A Lantern walk goes 2 m along the
// line of dance; a Quay walk does so too, and then turns to the next side of the room.
func roundRoom(size, order string) string {
	walk := "| 1 | LF forward | RF back |\n| 2 | RF forward | LF back |\n| 3 | LF forward | RF back |\n"
	return "---\ndance: river march\nmetre: 4/4\ntravels: yes\nforward step: 50 cm\nfaces: LOD\nfloor: " + size + "\n---\n\n## Order\n\n" + order + "\n" +
		figureOf("Lantern walk", "- starts: closed\n", walk+"| 4 | RF forward | LF back |\n") + "\n" +
		figureOf("Quay walk", "- starts: closed\n", walk+"| 4 | RF close, 1/4 L | LF close, 1/4 L |\n")
}

// twoFamilies returns a sheet of a figure that is danced on 1 and of one that belongs to a family.
func twoFamilies(family string) string {
	return chaHead + "## Order\n\n1. Lantern step\n2. Quay step\n\n" + figureOf("Lantern step", "- family: on 1\n", twoThree+chasse) + "\n" + figureOf("Quay step", "- family: "+family+"\n", quayRows)
}

// pair returns a sheet that dances a Lantern step and then a Quay step.
func pair(lanternFacts, lanternRows, quayFacts, quayRows string) string {
	return chaHead + "## Order\n\n1. Lantern step\n2. Quay step\n\n" + figureOf("Lantern step", lanternFacts, lanternRows) +
		"\n" + figureOf("Quay step", quayFacts, quayRows)
}

const (
	quayRows = "|   2   | RF back | LF forward |\n|   3   | LF replace | RF replace |\n" +
		"|   4   | RF side | LF side |\n|   &   | LF close | RF close |\n|   1   | RF side | LF side |\n"
	figureNear = waltzTop + "1. Box step\n\n## Boks step\n" + columns + "| 1-3 | LF forward | RF back |\n"
	lampSteps  = "## Lamp step to the left\n" + columns + twoThree + chasse + "\n## Lamp step to the right\n" + columns + quayRows
	waltzStep  = "\n## Jetty turn\n\n- starts: closed, facing DW\n" + columns +
		"| 1 | RF forward, facing DW | LF back, backing DW |\n| 2 | LF side, 1/4 R, backing DC | RF side, 3/8 R, pointing LOD |\n| 3 | RF close, 1/8 R, backing LOD | LF close, facing LOD |\n"
)

var explanations = map[Code]Explanation{
	"alignment-contradicted": {Error, "A cell says where the dancer faces, but the turns up to there leave the dancer facing another way. Right turns go clockwise seen from above: from facing DW, 1/4 R faces DW against LOD.",
		waltzTop + "1. Jetty turn\n" + strings.Replace(waltzStep, "1/4 R, backing DC", "1/8 R, backing DC", 1), waltzTop + "1. Jetty turn\n" + waltzStep},
	"bad-value": {Error, "A setting has a value that it can't take.", "---\ndance: cha-cha\ncount: loudly\n---\n" + chaOrder + lantern, "---\ndance: cha-cha\ncount: words\n---\n" + chaOrder + lantern},
	"bar-not-full": {Error, "One figure ends on a count and the next starts on a later one, so nobody knows what happens in between. A figure may be half a bar long; the next one then starts where it stopped.",
		pair("", twoThree+"|   4   | LF side | RF side |\n", "", quayRows), pair("", twoThree+chasse, "", quayRows)},
	"chart-broken": {Error, "Something looks like a chart, but can't be read as one: its cells can't be told apart, or it has no heading of columns, or stands below no figure's name.",
		replaced("| Count | Leader | Follower |\n|:-----:|--------|----------|\n", ""), good},
	"chart-empty":       {Error, "The chart has a heading but no rows of steps.", chaHead + chaOrder + "## Lantern step\n" + columns, good},
	"column-again":      {Error, "Two columns are headed as the same partner's steps, or as the count.", replaced("| Leader | Follower |", "| Leader | Man |"), good},
	"column-missing":    {Error, "A chart needs a column Leader or Follower, or both, next to its counts.", chaHead + chaOrder + "## Lantern step\n\n| Count | Note |\n|:-----:|------|\n|   2   | smile |\n", good},
	"control-character": {Error, "The text contains an invisible character that a terminal might obey, or one that makes text run backwards.", replaced("RF side |\n|   &", "RF side (slow\u202ely) |\n|   &"), good},
	"columns-copied": {Error, "Both partners have the same steps, all of them with the same foot. That suits partners who face the same way, side by side or one behind the other; in any other hold the follower's steps were probably copied from the leader's.",
		told("- starts: closed\n", "|   2   | LF forward | LF forward |\n|   3   | RF replace | RF replace |\n|   4   | LF side | LF side |\n|   &   | RF close | RF close |\n|   1   | LF side | LF side |\n"), told("- starts: closed\n", twoThree+chasse)},
	"columns-swapped": {Error, "Danced as it stands, the chart contradicts what the figure says of itself; with the two columns swapped it does not.",
		told("- starts: closed, leader LF free, follower RF free\n", "|   2   | RF back | LF forward |\n|   3   | LF replace | RF replace |\n|   4   | RF side | LF side |\n|   &   | LF close | RF close |\n|   1   | RF side | LF side |\n"),
		told("- starts: closed, leader LF free, follower RF free\n", twoThree+chasse)},
	"count-mixed":      {Error, "A figure is counted either by the numbers of the beats or in S and Q. If the two are mixed, it isn't clear where the bar begins.", replaced("|   3   |", "|   S   |"), good},
	"count-order":      {Error, "Counts go forward, but this one does not come after the one above it.", replaced("|   &   | RF close | LF close |", "|   &   | RF close | LF close |\n|   &   | – | – |"), good},
	"count-skipped":    {Warning, "A beat between two counts is missing. If the step before it is held, write the held count (3-4); if both wait, give the beat a row with – in both columns.", with("|   2   | LF forward | RF back |\n|   4   | RF replace | LF replace |\n|   1   | LF side | RF side |\n"), with("|   2-3 | LF forward | RF back |\n|   4   | RF replace | LF replace |\n|   1   | LF side | RF side |\n")},
	"count-unreadable": {Error, "A count is the number of a beat (2), a held count (4-1), a part of a beat (&, a, e), or S or Q.", replaced("|   3   |", "| third |"), good},
	"dance-missing":    {Error, "Without the dance, its metre and its figures are not known.", "---\ntitle: Lantern Night\n---\n" + chaOrder + lantern, good},
	"end-contradicted": {Error, "The figure says how it ends, but its steps lead to another foot, position or direction.", told("- starts: open facing\n- ends: fan\n", twoThree+chasse), told("- starts: open facing\n- ends: open facing\n", twoThree+chasse)},
	"figure-near":      {Warning, "The sheet tells a figure whose name is nearly one of the order's, but the order's is the library's figure, so the sheet's own steps are not danced.", figureNear, strings.Replace(figureNear, "Boks", "Box", 1)},
	"figure-resembles": {Note, "A figure of your own has the steps of one in the library, but for one step, or with the partners exchanged. If that step was copied wrongly, you will want to know; if it is meant, nothing is wrong.",
		with(strings.Replace(twoThree, "LF forward", "LF side", 1) + chasse + quayRows), with(twoThree + chasse + quayRows)},
	"figure-not-danced": {Note, "The sheet tells a figure that its order does not dance.", good + back, strings.Replace(good, "1. Lantern step\n", "1. Lantern step\n2. Quay step\n", 1) + back},
	"side-missing":      {Error, "There are two figures of this name, one to the left and one to the right.", chaHead + "## Order\n\n1. Lamp step\n\n" + lampSteps, chaHead + "## Order\n\n1. Lamp step to the left\n2. Lamp step R\n\n" + lampSteps},
	"sides-alternate":   {Note, "A figure that is danced to either side is repeated without saying to which; it is danced to one side and then to the other.", chaHead + "## Order\n\n1. Lamp step × 2\n\n" + lampSteps, chaHead + "## Order\n\n1. Lamp step to the left\n2. Lamp step to the right\n\n" + lampSteps},
	"figure-again":      {Error, "Two figures of one sheet have the same name, so the order can't tell them apart.", good + "\n" + lantern, good},
	"foot-missing":      {Error, "Each step starts with the foot that takes it, so that the weight can be followed.", replaced("| LF forward |", "| forward |"), good},
	"foot-not-free":     {Error, "A dancer stands on one foot, and only the other is free to step. A tap, or a step with no weight, leaves the same foot free.", replaced("| RF close | LF close |", "| LF close | LF close |"), good},
	"front-matter":      {Error, "The settings at the top, between two lines of ---, are YAML: one \"name: value\" per line.", "---\ndance: cha-cha\ntitle: \"Lantern Night\n---\n" + chaOrder + lantern, "---\ndance: cha-cha\ntitle: \"Lantern Night\"\n---\n" + chaOrder + lantern},
	"join-direction": {Error, "Each partner must face the same way at the end of one figure as at the start of the next. In closed hold they face each other; in fan the follower faces a quarter to the leader's right. A figure whose chart allows it is danced from another direction, or turned more or less, as what comes before and after needs; this says that none of its ways fits. Where a corner of the room is taken, write \"corner: after\" below the figure: what follows is then seen from the new line of dance.",
		pair("- starts: closed\n", twoThree+"|   4   | LF side, 1/4 L | RF side |\n|   &   | RF close | LF close |\n|   1   | LF side | RF side |\n", "- starts: closed\n", quayRows),
		pair("- starts: closed\n", twoThree+"|   4   | LF side, 1/4 L | RF side, 1/4 L |\n|   &   | RF close | LF close |\n|   1   | LF side | RF side |\n", "- starts: closed\n", quayRows)},
	"join-foot": {Error, "The next figure starts with a foot that has the weight on it.", chaHead + "## Order\n\n1. Lantern step × 2\n\n" + lantern, chaHead + "## Order\n\n1. Lantern step\n2. Quay step\n\n" + lantern + back},
	"join-hands": {Warning, "One figure ends with other hands joined than the next one starts with, and no step changes them.",
		pair("- ends: open facing, right to right\n", twoThree+chasse, "- starts: open facing, left to right\n", quayRows), pair("- ends: open facing, right to right\n", twoThree+chasse, "- starts: open facing, right to right\n", quayRows)},
	"join-position": {Error, "The next figure starts in a different hold or position from the one in which this figure leaves the couple.", pair("- starts: closed\n", twoThree+chasse, "- starts: open facing\n", quayRows), pair("- starts: closed\n- ends: open facing\n", twoThree+chasse, "- starts: open facing\n", quayRows)},
	"last-bar-open": {Warning, "The routine stops in the middle of a bar. It can be danced once, but if it is repeated without a pause it no longer fits the bars of the music.", with(twoThree), good},
	"loose-form": {Note, "Something is not written in Markdown's form, but it is clear what was meant, and it is read so: a heading without its space, a list of figures without numbers, a chart without its line of dashes. Tidy writes the form.",
		replaced("## Order", "##Order"), good},
	"not-read":       {Note, "A bullet or a table in a figure's section is left for people, as it is neither a fact that Slowquick knows nor a chart.", told("- mood: like the river\n", twoThree+chasse), told("- note: like the river\n", twoThree+chasse)},
	"not-utf8":       {Error, "The file is not text, or is text in an old encoding.", chaHead + chaOrder + "## Lantern st\xe9p\n", good},
	"order-again":    {Error, "The sheet has two lists of the figures to dance.", good + "\n## Order\n\n1. Lantern step\n", good},
	"order-loop":     {Error, "A part of the order would be danced within itself, or all is repeated before anything was danced.", chaHead + "## Order\n\n1. From the top\n2. Lantern step\n\n" + lantern, good},
	"order-not-read": {Warning, "Something in the order looks like figures, but is no item of the numbered list, so it is not danced.", replaced("1. Lantern step\n", "1. Lantern step\n\n> Lantern step\n"), good},
	"order-parts":    {Note, "A part of the order is danced where the last list of the order names it, and not where it stands.", chaHead + "## Order\n\n### Lamps\n\n1. Lantern step\n\n### Sequence\n\n1. Lamps\n\n" + lantern, good},
	"order-empty":    {Error, "The order must be a numbered list with a figure on each line.", chaHead + "## Order\n\nWe decide in the class.\n\n" + lantern, good},
	"order-missing":  {Error, "A routine needs a list of the figures to dance, in order.", chaHead + lantern, good},
	"other-setting":  {Note, "The top of the sheet has a line that Slowquick has no use for, such as an author or a date. It stays as it stands.", "---\ndance: cha-cha\nauthor: the Lantern Night class\n---\n" + chaOrder + lantern, good},
	"parts-differ": {Error, "The partners' charts must fill the same beats.",
		chaHead + chaOrder + "## Lantern step\n\n| Count | Leader |\n|-------|--------|\n| 2 | LF forward |\n| 3 | RF replace |\n\nHer part:\n\n| Count | Follower |\n|-------|----------|\n| 2 | RF back |\n| 3 | LF replace |\n| 4-1 | RF side |\n",
		chaHead + chaOrder + "## Lantern step\n\n| Count | Leader |\n|-------|--------|\n| 2 | LF forward |\n| 3 | RF replace |\n| 4-1 | LF side |\n\nHer part:\n\n| Count | Follower |\n|-------|----------|\n| 2 | RF back |\n| 3 | LF replace |\n| 4-1 | RF side |\n"},
	"phrase-crossed": {Warning, "The sheet says how long the phrases of its song are, and a figure runs over the end of one. Dancers hear that, and so do people watching.",
		strings.Replace(with(twoThree+chasse+quayRows), "---\n##", "phrases: 1 bar\n---\n##", 1), strings.Replace(with(twoThree+chasse+quayRows), "---\n##", "phrases: 2 bars\n---\n##", 1)},
	"song-unusable": {Warning, "The song that the sheet names can't be read, or has no bar on which the dance could begin. The routine can be danced without it. The example's folder contains lantern.ogg, which has 3 bars.",
		strings.Replace(songHead, "lantern", "river", 1) + songOrder + "\n" + lantern + back, songHead + songOrder + "\n" + lantern + back},
	"song-short": {Warning, "From where the dance begins, the song has fewer bars than the routine, so the end would be danced without music. The example's song has 3 bars.",
		songHead + songOrder + "4. Quay step\n\n" + lantern + back, songHead + songOrder + "\n" + lantern + back},
	"song-long": {Warning, "The song does not end when the routine ends, whether it is danced once or several times. The example's song has 3 bars.",
		songHead + "## Order\n\n1. Lantern step\n2. Quay step\n\n" + lantern + back, songHead + songOrder + "\n" + lantern + back},
	"place-missing": {Warning, "The step names its foot but does not say where it goes.", replaced("LF forward", "LF"), good},
	"place-twice":   {Error, "A foot can go to only one place. If a step goes two ways, write \"slightly\" before the smaller one.", replaced("LF forward", "LF forward, back"), good},
	"position-contradicted": {Error, "A step names the position that it leads to, but after the partners' turns they can't be in it.", told("- starts: closed\n", "|   2   | LF forward | RF back |\n|   3   | RF replace | LF replace |\n|   4   | LF side, in promenade | RF side |\n|   &   | RF close | LF close |\n|   1   | LF side | RF side |\n"),
		told("- starts: closed\n", "|   2   | LF forward | RF back |\n|   3   | RF replace | LF replace |\n|   4   | LF side, 1/8 L, in promenade | RF side, 1/8 R |\n|   &   | RF close | LF close |\n|   1   | LF side | RF side |\n")},
	"repeat-range":       {Error, "A figure must be danced at least once.", replaced("1. Lantern step", "1. Lantern step × 0"), good},
	"row-again":          {Error, "The same row stands twice, one after the other, and without one of them the figure can be danced.", replaced("|   3   | RF replace | LF replace |\n", "|   3   | RF replace | LF replace |\n|   3   | RF replace | LF replace |\n"), good},
	"row-missing":        {Error, "Both partners need a foot here that has the weight, but all is well if there was a step before it. Probably a row was forgotten.", replaced("|   &   | RF close | LF close |\n", ""), good},
	"row-too-long":       {Error, "A row has a cell with no heading above it, so the cell would be lost.", replaced("| RF close | LF close |", "| RF close | LF close | softly |"), good},
	"rows-swapped":       {Error, "Two rows stand in the wrong order: swapped, they can be danced.", replaced("|   4   | LF side | RF side |\n|   &   | RF close | LF close |\n", "|   &   | RF close | LF close |\n|   4   | LF side | RF side |\n"), good},
	"said-twice":         {Error, "Something that can be said only once is said twice: how many times a figure is danced, or which of its steps; how far a step turns, which way it faces, its size, its weight or its footwork.", replaced("1. Lantern step", "1. Lantern step × 1 × 1"), good},
	"start-contradicted": {Error, "The figure says how it starts, but its first steps need another foot or direction.", told("- starts: closed, leader RF free\n", twoThree+chasse), told("- starts: closed, leader LF free\n", twoThree+chasse)},
	"start-supposed": {Note, "A figure does not say how the couple stands when it starts. It is taken to start as the library's figure of its name, or as the figure before it ends, or in the usual hold, so that the partners' places can be judged.",
		good, told("- starts: closed\n", twoThree+chasse)},
	"step-differs": {Warning, "The figure has the name of one in the library, and all its steps but one. Probably that step was written wrongly. If it is meant, give it another name: \"Closed basic with a check\".",
		chaHead + "## Order\n\n1. Closed basic\n\n## Closed basic\n\n- starts: closed\n" + columns + strings.Replace(twoThree, "LF forward", "LF side", 1) + chasse + quayRows,
		chaHead + "## Order\n\n1. Closed basic\n\n## Closed basic\n\n- starts: closed\n" + columns + twoThree + chasse + quayRows},
	"step-missing": {Error, "Each cell needs a step. For a partner who stands still, write –.", replaced("| LF close |\n", "| |\n"), replaced("| LF close |\n|   1   | LF side | RF side |", "| – |\n|   1   | LF side | LF in place |")},
	"steps-range":  {Error, "The order asks for steps, or a figure names a part, that its chart does not have. Each row is one step.", replaced("1. Lantern step", "1. Lantern step, steps 1–9"), replaced("1. Lantern step", "1. Lantern step, steps 1–5")},
	"floor-left": {Warning, "The sheet says how large the floor is, and the routine goes over its edge. A dance that travels starts at the wall behind the couple; any other is danced in the middle.",
		replaced("---\n##", "floor: 1 x 1 m\n---\n##"), replaced("---\n##", "floor: 8 x 6 m\n---\n##")},
	"against-line-of-dance": {Warning, "In a dance that travels, couples go round the room anticlockwise, along the line of dance. A figure takes the couple more than half a metre against it, or begins where it isn't danced: walks, locks and changes begin facing the line of dance or diagonally. Boxes and hesitations, which stay where they are, are danced anywhere, and a figure whose chart says how it is aligned may go back a little. A figure that begins back right after a step forward, or forward after one back, is a warning, too.",
		strings.Replace(roundRoom("10 x 10 m", "1. Lantern walk\n"), "faces: LOD", "faces: against LOD", 1), roundRoom("10 x 10 m", "1. Lantern walk\n")},
	"mixed-families": {Warning, "Some figures belong to a family: on 1 or on 2, international, American or vintage. A routine keeps to one of them, as timing, hold or style differ.",
		twoFamilies("on 2"), twoFamilies("on 1")},
	"corner-early": {Warning, "The sheet says how large the floor is, and a corner of the room is taken more than 3 m before the side ends. A dance that travels starts at the wall behind the couple.",
		roundRoom("20 x 10 m", "1. Lantern walk × 3\n2. Quay walk\n   - corner: after\n3. Lantern walk\n"), roundRoom("10 x 10 m", "1. Lantern walk × 3\n2. Quay walk\n   - corner: after\n3. Lantern walk\n")},
	"corner-missing": {Warning, "The sheet says how large the floor is, and the routine goes on through the wall at the end of a side. A corner of the room belongs there, which turns the line of dance.",
		roundRoom("10 x 10 m", "1. Lantern walk × 6\n"), roundRoom("10 x 10 m", "1. Lantern walk × 3\n2. Quay walk\n   - corner: after\n3. Lantern walk × 3\n")},
	"place-missed": {Warning, "Danced from where the figure starts, with steps of the dance's usual length, the partners are not where their position puts them, and are too far off to make up for it with longer or shorter steps. Probably one partner's part has a wrong direction, foot or turn.",
		told("- starts: closed\n", strings.Replace(twoThree, "RF back", "RF forward", 1)+chasse), told("- starts: closed\n", twoThree+chasse)},
	"too-far": {Warning, "The partners hold hands but are farther apart than two outstretched arms.",
		told("- starts: open facing\n", "|   2   | LF large back | RF large back |\n|   3   | RF replace | LF replace |\n"+chasse), told("- starts: open facing\n", twoThree+chasse)},
	"too-near": {Warning, "The partners would run into each other.",
		told("- starts: open facing\n", "|   2   | LF forward | RF forward |\n|   3   | RF replace | LF replace |\n"+chasse), told("- starts: open facing\n", twoThree+chasse)},
	"steps-per-row": {Error, "Several counts may share a row if each partner has a step for each of them, with commas between the steps; a partner may also stand still on all of them.",
		with("| 2 3 | LF forward, RF replace | RF back |\n" + chasse), with("| 2 3 | LF forward, RF replace | RF back, LF replace |\n" + chasse)},
	"tempo-range":      {Warning, "The tempo is outside the dance's usual range. For beginners that may be what you want; the player can also slow a routine down without a change to the sheet.", "---\ndance: cha-cha\ntempo: 60 bars/min\n---\n" + chaOrder + lantern, "---\ndance: cha-cha\ntempo: 30 bars/min\n---\n" + chaOrder + lantern},
	"tempo-unreadable": {Error, "A tempo is a number with its unit: 30 bars/min or 120 beats/min.", "---\ndance: cha-cha\ntempo: 30\n---\n" + chaOrder + lantern, "---\ndance: cha-cha\ntempo: 30 bars/min\n---\n" + chaOrder + lantern},
	"too-large":        {Error, "The sheet, or the routine with all its repeats, is larger than anyone could dance.", "---\ndance: cha-cha\ntitle: " + strings.Repeat("lantern ", largestFront/8) + "\n---\n" + chaOrder + lantern, good},
	"turn-range": {Error, "A turn that may vary has two amounts, the usual one first (1/4 to 3/8 R). If the usual one lies between them, they stand in brackets, the smaller one first: 1/4 R (1/8 to 3/8).",
		ranged("1/4 R (3/8 to 1/8)"), ranged("1/4 R (1/8 to 3/8)")},
	"turn-unreadable":   {Error, "A turn is an amount in eighths and a side: 1/4 R, 3/8 L.", replaced("LF forward", "LF forward, 1/5 R"), replaced("LF forward | RF back", "LF forward, 1/8 R | RF back, 1/8 R")},
	"unknown-column":    {Warning, "The heading of this column is not known, so the column is not read.", replaced("| Leader | Follower |\n|:-----:|", "| Leader | Follower | Weather |\n|:-----:|-----|"), good},
	"unknown-dance":     {Error, "The library has no dance of this name. Any other dance works too: write its metre below its name, as in metre: 4/4.", "---\ndance: cha-char\n---\n" + chaOrder + lantern, good},
	"unknown-direction": {Error, "The directions in the hall are LOD, DW, wall, DW against LOD, against LOD, DC against LOD, centre and DC.", "---\ndance: cha-cha\nfaces: river\n---\n" + chaOrder + lantern, "---\ndance: cha-cha\nfaces: wall\n---\n" + chaOrder + lantern},
	"steps-not-read":    {Warning, "A list of steps is no chart, so the steps are not danced.", good + "\n## Quay step\n\n- LF forward\n- RF replace\n", good},
	"unknown-fact":      {Warning, "A bullet above a chart looks like a fact about the figure, but its name is not known.", told("- strats: closed\n", twoThree+chasse), told("- starts: closed\n", twoThree+chasse)},
	"unknown-figure":    {Error, "The order names a figure that is neither in this sheet nor in the dance's chapter of the library.", replaced("1. Lantern step", "1. Lantern stop"), good},
	"struck-out":        {Note, "What is struck out in the order is not danced. Take the ~~ from around it to dance it again.", replaced("1. Lantern step\n", "1. Lantern step\n2. ~~Lantern step~~\n"), good},
	"unknown-setting":   {Warning, "There is no setting of this name, or it stands where it is not read.", "---\ndance: cha-cha\ntempp: 30 bars/min\n---\n" + chaOrder + lantern, "---\ndance: cha-cha\ntempo: 30 bars/min\n---\n" + chaOrder + lantern},
	"unknown-word":      {Error, "A step, or a line saying how a figure starts or ends, has a word that is not known.", replaced("LF forward", "LF forwrad"), good},
}
