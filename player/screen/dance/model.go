package dance

import (
	"time"

	"dance.example/slowquick/player"
	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/player/screen/cue"
	"dance.example/slowquick/player/screen/marks"
	"dance.example/slowquick/player/screen/pane"
	"dance.example/slowquick/player/screen/session"
	"dance.example/slowquick/player/screen/songpage"
	"dance.example/slowquick/player/screen/term"
	"dance.example/slowquick/routine"
)

// Model is the screen of one sheet.
type Model struct {
	o     Options
	turn  Turn
	sheet Sheet // as it was saved last; what is danced may be the one before

	cue       cue.Cue // what is shown
	clock     clock
	news      term.News
	open      opened
	book      marks.Book
	song      *songpage.Model
	mixer     mixer
	lead      *session.Lead   // nil for none
	firstKeys *pane.FirstKeys // nil for none
	loopFrom  *routine.Beats  // the start of a loop whose end is still to be set
	taps      taps
	learning  byHeart
	class     class
	asked     Turn // what q asked about; the same key again does it

	width, height int
}

// byHeart is how a routine is learnt.
type byHeart struct {
	heart bool     // each run-through without a mark hides more
	swap  bool     // the partners' parts are swapped when the next run-through begins
	marks marksMsg // as they were listed last
	// What the dancer has chosen to hide, while an exercise hides more; nil while none does.
	chosen *practice.Hidden
}

// class is what a class needs.
type class struct {
	called bool // whether figures were named aloud before it
	remote bool // a presentation remote has been used, which must not leave the dance
}

// taps are the beats of some music as somebody taps them.
type taps struct {
	player.Taps
	last time.Time
}

// Resize lays the dance out for a window.
func (m *Model) Resize(width, height int) { m.width, m.height = width, height }

// Score returns the score that is danced, and Dancers whose steps are shown.
func (m *Model) Score() *routine.Score    { return m.cue.Moment.Timeline.Score }
func (m *Model) Dancers() routine.Dancers { return m.cue.Dancers }

// Moment is where the couple is.
func (m *Model) Moment() player.Moment { return m.cue.Moment }

// SetSound says what is wrong with the sound; "" if nothing is.
func (m *Model) SetSound(text string) { m.o.Sound = text }

// openMark is a mark of the routine and where the routine first dances what is marked.
type openMark struct {
	practice.OpenMark
	at practice.Place
}

// marksMsg brings the marks of a score that are open.
type marksMsg struct {
	score *routine.Score
	marks []openMark
}
