package dance

import (
	"fmt"
	"time"

	"dance.example/slowquick/player"
	"dance.example/slowquick/player/practice"
)

// Pauses counts what is danced, from one sheet to the next, and suggests a pause when
// that is enough.
type Pauses struct {
	Spell   practice.Spell
	dancing bool
	last    time.Time // when it was danced last
	Text    string    // that suggests one; "" for none
	fades   time.Time // when that goes by itself, while one dances on
}

// rested is how long one stands until what was danced before counts no more (our own
// choice). A breather is shorter.
const rested = 5 * time.Minute

// suggested is how long a pause is suggested to who dances on.
const suggested = 10 * time.Second

// follow takes in what is heard at a time. It suggests a pause only between two run-throughs
// or to a couple that stands.
func (p *Pauses) follow(m player.Moment, at time.Time, ended bool) {
	dancing := m.State == player.Dancing
	switch {
	case p.dancing:
		p.Spell.Dance(at.Sub(p.last))
	case dancing && at.Sub(p.last) >= rested:
		p.Spell.Rest()
	}
	if p.dancing || dancing {
		p.last = at
	}
	p.dancing = dancing
	stands := !dancing && m.State != player.LeadIn
	if p.Spell.Over(0) && (stands || ended) {
		p.Spell.Told()
		p.Text, p.fades = danceText(p.Spell.Danced())+" danced: a pause does you good", at.Add(suggested)
	}
	if !stands && at.After(p.fades) {
		p.Text = ""
	}
}

// leave ends that what is heard is counted, as there is nothing to hear.
func (p *Pauses) leave() { p.dancing, p.Text = false, "" }

// danceText is a length in whole minutes, in words.
func danceText(d time.Duration) string {
	if n := int(d.Minutes()); n != 1 {
		return fmt.Sprintf("%d minutes", n)
	}
	return "1 minute"
}
