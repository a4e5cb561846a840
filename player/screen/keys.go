package screen

import (
	"io"

	"dance.example/slowquick/player"
	"dance.example/slowquick/routine"

	"github.com/charmbracelet/bubbles/help"
	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/lipgloss"
	"github.com/muesli/termenv"
)

// action is a key of the dance screen and what it does. Keys, help line and help
// page all come from the same list of actions.
type action struct {
	key.Binding
	do func(*dance) tea.Cmd
}

func bind(shown, what string, keys ...string) key.Binding {
	return key.NewBinding(key.WithKeys(keys...), key.WithHelp(shown, what))
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
			{bind("space", "start, hold", " "), (*dance).toggle},
			{bind("→", "next step", "right"), goes(true, nextStep)},
			{bind("←", "previous step", "left"), goes(true, previousStep)},
			{bind("↓", "next figure", "down"), goes(false, nextFigure)},
			{bind("↑", "previous figure", "up"), goes(false, previousFigure)},
			{bind("PgDn", "next bar, or a rung up", "pgdown"), onLadder(rungUp, taught((*dance).faster, goes(false, nextBar)))},
			{bind("PgUp", "previous bar, or a rung down", "pgup"), onLadder(rungDown, taught((*dance).slower, goes(false, previousBar)))},
			{bind("Home", "to the start", "home"), goes(false, toStart)},
		}},
		{"Tempo", []action{
			{bind("+", "1 bar/min faster", "+", "="), (*dance).faster},
			{bind("−", "1 bar/min slower", "-", "_"), (*dance).slower},
			{bind("0", "the sheet's tempo", "0"), (*dance).fullTempo},
			{bind("t", "type a tempo", "t"), (*dance).askTempo},
			{bind("b", "tap the beat of the music", "b"), (*dance).tapBeat},
			{bind("B", "tap its 1, and dance with it", "B"), (*dance).tapOne},
			{bind("l", "lead-in of 0 to 4 bars", "l"), (*dance).leadIn},
		}},
		{"Practise", []action{
			{bind("r", "repeat this figure, or stop", "r"), (*dance).repeatFigure},
			{bind("m", "repeat a part: start, end, stop", "m"), (*dance).markHere},
			{bind("j", "repeat the join to the next", "j"), (*dance).repeatJoin},
			{bind("g", "gradually faster each pass", "g"), (*dance).gradually},
			{bind("G", "type how it grows by passes", "G"), (*dance).askLadder},
			{bind("enter", "it went wrong: a rung down", "enter"), onLadder(rungDown, (*dance).noLadder)},
			{bind("R", "rest 0 to 4 bars between passes", "R"), (*dance).rest},
		}},
		{"Learn", []action{
			{bind("z", "it went wrong: mark it", "z"), wentWrong()},
			{bind("1", "the leader marks it", "1"), wentWrong(routine.Leader)},
			{bind("2", "the follower marks it", "2"), wentWrong(routine.Follower)},
			{bind("Z", "drill what was marked", "Z"), (*dance).drillMarked},
			{bind("h", "by heart: the next way to hide", "h"), (*dance).hideNext},
			{bind("H", "show all, or hide by clean pass", "H"), (*dance).byHeart},
			{bind("N", "next exercise of the session", "N"), (*dance).nextExercise},
			{bind("S", "swap sides with the next pass", "S"), (*dance).swapSides},
			{bind("u", "questions about the sheet", "u"), (*dance).askMe},
		}},
		{"See and hear", []action{
			{bind("s", "side: both, leader, follower", "s"), (*dance).nextSide},
			{bind("C", "a class: the count alone", "C"), (*dance).class},
			{bind("p", "plan of the floor", "p"), (*dance).showFloor},
			{bind("v", "view: behind, opposite, above", "v"), (*dance).nextView},
			{bind("c", "count: count, slow/quick, words", "c"), (*dance).nextCount},
			{bind("n", "name the next figure aloud", "n"), (*dance).nameAloud},
			{bind("e", "feet in their own ears, or both", "e"), (*dance).feetApart},
			{bind("a", "counting aloud softer", "a"), level(-1, player.VoiceLayer)},
			{bind("A", "counting aloud louder", "A"), level(+1, player.VoiceLayer)},
			{bind("d", "drums and rhythm softer", "d"), level(-1, player.RhythmLayer)},
			{bind("D", "drums and rhythm louder", "D"), level(+1, player.RhythmLayer)},
			{bind("k", "clicks softer", "k"), level(-1, player.ClickLayer)},
			{bind("K", "clicks louder", "K"), level(+1, player.ClickLayer)},
			{bind("f", "steps softer", "f"), (*dance).stepsSofter},
			{bind("F", "steps louder", "F"), (*dance).stepsLouder},
			{bind("o", "the song softer", "o"), songLevel(-1)},
			{bind("O", "the song louder", "O"), songLevel(+1)},
			{bind("M", "the song: where its beats are", "M"), (*dance).showSong},
			{bind("w", "what was found in the sheet", "w"), (*dance).showFindings},
		}},
		{"Program", []action{
			{bind("?", "help", "?"), (*dance).showHelp},
			{bind("esc", "back to where it was chosen", "esc"), (*dance).leave},
			{bind("q", "quit", "q", "ctrl+c"), (*dance).quit},
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

// named shows a binding in other words, for the line that is short of room.
func named(b key.Binding, shown, what string) key.Binding {
	return key.NewBinding(key.WithKeys(b.Keys()...), key.WithHelp(shown, what))
}

// both shows two bindings as one.
func both(a, b key.Binding, shown, what string) key.Binding {
	return key.NewBinding(key.WithKeys(append(a.Keys(), b.Keys()...)...), key.WithHelp(shown, what))
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
			named(k(" "), "space", space), named(k("?"), "?", "help"), both(k("left"), k("right"), "←→", "step"), both(k("up"), k("down"), "↑↓", "figure"),
			both(k("+"), k("-"), "+−", "tempo"), named(k("r"), "r", "repeat"), named(k("s"), "s", "side"), named(k("q"), "q", "quit"),
		},
		{
			named(k("c"), "c", "count"), named(k("m"), "m", "part"), named(k("g"), "g", "gradually"), named(k("z"), "z", "wrong"),
			named(k("p"), "p", "plan"), both(k("a"), k("A"), "aA", "aloud"), both(k("d"), k("D"), "dD", "drums"), named(k("esc"), "esc", back),
		},
	}
}

// listKeys are the keys of the list.
type listKeys struct{ open, handbook, help, clear, quit key.Binding }

func newListKeys(withHandbook bool) listKeys {
	k := listKeys{
		open: bind("enter", "dance it", "enter"), handbook: bind("tab", "handbook", "tab"), help: bind("?", "help", "?"),
		clear: bind("esc", "clear, quit", "esc"), quit: bind("ctrl+c", "quit", "ctrl+c"),
	}
	k.handbook.SetEnabled(withHandbook)
	return k
}

// pageKeys are the keys of a page of text.
type pageKeys struct{ up, down, pageUp, pageDown, back, quit key.Binding }

func newPageKeys() pageKeys {
	return pageKeys{
		up: bind("↑", "up", "up"), down: bind("↓", "down", "down"),
		pageUp: bind("PgUp", "page up", "pgup"), pageDown: bind("PgDn", "page down", "pgdown", " "),
		back: bind("esc", "back", "esc", "?", "enter"), quit: bind("q", "quit", "q", "ctrl+c"),
	}
}

func (k pageKeys) line() []key.Binding {
	return []key.Binding{k.back, both(k.up, k.down, "↑↓", "read on"), both(k.pageUp, k.pageDown, "PgUp PgDn", "page"), k.quit}
}

// newHelp writes lines of keys, the keys bold.
func newHelp(width int) help.Model {
	// A renderer of its own, as the shared one takes even the bold from a
	// terminal without colours.
	r := lipgloss.NewRenderer(io.Discard)
	r.SetColorProfile(termenv.ANSI)
	h := help.New()
	h.Width = width
	h.ShortSeparator = "  "
	plain := r.NewStyle()
	h.Styles = help.Styles{Ellipsis: plain, ShortKey: plain.Bold(true), ShortDesc: plain, ShortSeparator: plain}
	return h
}
