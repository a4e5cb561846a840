package screen

import (
	"dance.example/slowquick/player"
	"dance.example/slowquick/player/screen/term"
	"dance.example/slowquick/routine"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"
)

// action is a key of the dance screen and what it does. Keys, help line and help
// page all come from the same list of actions.
type action struct {
	key.Binding
	do func(*dance) tea.Cmd
}

// actionGroup is what belongs together on the help page.
type actionGroup struct {
	title   string
	actions []action
}

// danceActions lists all that can be done while a sheet is open.
func danceActions() []actionGroup {
	return []actionGroup{
		{"Dance", []action{
			{term.Bind("space", "start, hold", " "), (*dance).toggle},
			{term.Bind("→", "next step", "right"), goes(true, (*player.Timeline).NextStep)},
			{term.Bind("←", "previous step", "left"), goes(true, (*player.Timeline).PreviousStep)},
			{term.Bind("↓", "next figure", "down"), goes(false, (*player.Timeline).NextFigure)},
			{term.Bind("↑", "previous figure", "up"), goes(false, (*player.Timeline).PreviousFigure)},
			{term.Bind("PgDn", "next bar, or a rung up", "pgdown"), onLadder(rungUp, taught((*dance).faster, goes(false, (*player.Timeline).NextBar)))},
			{term.Bind("PgUp", "previous bar, or a rung down", "pgup"), onLadder(rungDown, taught((*dance).slower, goes(false, (*player.Timeline).PreviousBar)))},
			{term.Bind("Home", "to the start", "home"), goes(false, toStart)},
		}},
		{"Tempo", []action{
			{term.Bind("+", "1 bar/min faster", "+", "="), (*dance).faster},
			{term.Bind("−", "1 bar/min slower", "-", "_"), (*dance).slower},
			{term.Bind("0", "the sheet's tempo", "0"), (*dance).fullTempo},
			{term.Bind("t", "type a tempo", "t"), (*dance).askTempo},
			{term.Bind("b", "tap the beat of the music", "b"), (*dance).tapBeat},
			{term.Bind("B", "tap its 1, and dance with it", "B"), (*dance).tapOne},
			{term.Bind("l", "lead-in of 0 to 4 bars", "l"), (*dance).leadIn},
		}},
		{"Practise", []action{
			{term.Bind("r", "repeat this figure, or stop", "r"), (*dance).repeatFigure},
			{term.Bind("m", "repeat a part: start, end, stop", "m"), (*dance).markHere},
			{term.Bind("j", "repeat the join to the next", "j"), (*dance).repeatJoin},
			{term.Bind("g", "gradually faster each pass", "g"), (*dance).gradually},
			{term.Bind("G", "type how it grows by passes", "G"), (*dance).askLadder},
			{term.Bind("enter", "it went wrong: a rung down", "enter"), onLadder(rungDown, (*dance).noLadder)},
			{term.Bind("R", "rest 0 to 4 bars between passes", "R"), (*dance).rest},
		}},
		{"Learn", []action{
			{term.Bind("z", "it went wrong: mark it", "z"), wentWrong()},
			{term.Bind("1", "the leader marks it", "1"), wentWrong(routine.Leader)},
			{term.Bind("2", "the follower marks it", "2"), wentWrong(routine.Follower)},
			{term.Bind("Z", "drill what was marked", "Z"), (*dance).drillMarked},
			{term.Bind("h", "by heart: the next way to hide", "h"), (*dance).hideNext},
			{term.Bind("H", "show all, or hide by clean pass", "H"), (*dance).byHeart},
			{term.Bind("N", "next exercise of the session", "N"), (*dance).nextExercise},
			{term.Bind("S", "swap sides with the next pass", "S"), (*dance).swapSides},
			{term.Bind("u", "questions about the sheet", "u"), (*dance).askMe},
		}},
		{"See and hear", []action{
			{term.Bind("s", "side: both, leader, follower", "s"), (*dance).nextSide},
			{term.Bind("C", "a class: the count alone", "C"), (*dance).class},
			{term.Bind("p", "plan of the floor", "p"), (*dance).showFloor},
			{term.Bind("v", "view: behind, opposite, above", "v"), (*dance).nextView},
			{term.Bind("c", "count: count, slow/quick, words", "c"), (*dance).nextCount},
			{term.Bind("n", "name the next figure aloud", "n"), (*dance).nameAloud},
			{term.Bind("e", "feet in their own ears, or both", "e"), (*dance).feetApart},
			{term.Bind("a", "counting aloud softer", "a"), level(-1, player.VoiceLayer)},
			{term.Bind("A", "counting aloud louder", "A"), level(+1, player.VoiceLayer)},
			{term.Bind("d", "drums and rhythm softer", "d"), level(-1, player.RhythmLayer)},
			{term.Bind("D", "drums and rhythm louder", "D"), level(+1, player.RhythmLayer)},
			{term.Bind("k", "clicks softer", "k"), level(-1, player.ClickLayer)},
			{term.Bind("K", "clicks louder", "K"), level(+1, player.ClickLayer)},
			{term.Bind("f", "steps softer", "f"), (*dance).stepsSofter},
			{term.Bind("F", "steps louder", "F"), (*dance).stepsLouder},
			{term.Bind("o", "the song softer", "o"), songLevel(-1)},
			{term.Bind("O", "the song louder", "O"), songLevel(+1)},
			{term.Bind("M", "the song: where its beats are", "M"), (*dance).showSong},
			{term.Bind("w", "what was found in the sheet", "w"), (*dance).showFindings},
		}},
		{"Program", []action{
			{term.Bind("?", "help", "?"), (*dance).showHelp},
			{term.Bind("esc", "back to where it was chosen", "esc"), (*dance).leave},
			{term.Bind("q", "quit", "q", "ctrl+c"), (*dance).quit},
		}},
	}
}

// find gives the binding of a key.
func find(groups []actionGroup, pressed string) key.Binding {
	for _, g := range groups {
		for _, a := range g.actions {
			for _, k := range a.Keys() {
				if k == pressed {
					return a.Binding
				}
			}
		}
	}
	panic("no action has the key " + pressed)
}

// helpLines are the keys below the dance, the most needed first; back says
// where esc leads.
func helpLines(groups []actionGroup, moving bool, back string) [2][]key.Binding {
	k := func(pressed string) key.Binding { return find(groups, pressed) }
	space := "start"
	if moving {
		space = "hold"
	}
	return [2][]key.Binding{
		{
			term.Named(k(" "), "space", space), term.Named(k("?"), "?", "help"), term.Pair(k("left"), k("right"), "←→", "step"), term.Pair(k("up"), k("down"), "↑↓", "figure"),
			term.Pair(k("+"), k("-"), "+−", "tempo"), term.Named(k("r"), "r", "repeat"), term.Named(k("s"), "s", "side"), term.Named(k("q"), "q", "quit"),
		},
		{
			term.Named(k("c"), "c", "count"), term.Named(k("m"), "m", "part"), term.Named(k("g"), "g", "gradually"), term.Named(k("z"), "z", "wrong"),
			term.Named(k("p"), "p", "plan"), term.Pair(k("a"), k("A"), "aA", "aloud"), term.Pair(k("d"), k("D"), "dD", "drums"), term.Named(k("esc"), "esc", back),
		},
	}
}
