package songs

import (
	"path/filepath"

	"dance.example/slowquick/audio/music"
)

// Report is a song and the dances it suits, as programs read it.
type Report struct {
	Song    string     `json:"song"` // the file, without its folder
	Seconds float64    `json:"seconds"`
	Hash    string     `json:"hash"` // SHA-256 of the decoded sound
	Damage  string     `json:"damage,omitempty"`
	Given   bool       `json:"beatsGiven,omitempty"`
	Suits   []Suit     `json:"suits"` // the best first
	Beats   []BeatTime `json:"beats,omitempty"`
}

// Suit is how a song suits a dance, in a [Report].
type Suit struct {
	Dance          string  `json:"dance"`
	BarsPerMinute  float64 `json:"barsPerMinute"`
	BeatsPerMinute float64 `json:"beatsPerMinute"`
	Competition    bool    `json:"atCompetitions"` // its tempo is danced there
	Slowest        float64 `json:"slowest"`        // beats a minute, over sixteen beats
	Fastest        float64 `json:"fastest"`
	Steady         []Part  `json:"steady"`    // where its beats are even
	FirstBeat      float64 `json:"firstBeat"` // seconds
	Doubtful       []Part  `json:"doubtful"`  // where the beats are a guess
	SureOfBeat     bool    `json:"sureOfBeats"`
	SureOfBar      bool    `json:"sureOfBars"`
	Strength       float64 `json:"strength"`
	Phase          float64 `json:"phaseMargin"`
	Bar            float64 `json:"barMargin"`
}

// Part is a stretch of a song.
type Part struct {
	From           float64 `json:"from"` // seconds
	To             float64 `json:"to"`
	BeatsPerMinute float64 `json:"beatsPerMinute"`
}

// BeatTime is when a beat sounds.
type BeatTime struct {
	Seconds float64 `json:"seconds"`
	Number  int     `json:"number"` // in the bar, from 1
}

// Report returns what was heard. With beats, it includes those of the dance that suits best.
func (l *Listened) Report(beats bool) Report {
	r := Report{Song: filepath.Base(l.Path), Seconds: l.Sound.Seconds(), Hash: l.Sound.Hash, Damage: l.Sound.Damage, Given: l.Given, Suits: []Suit{}}
	for _, f := range l.Suiting() {
		g := f.Grid
		slowest, fastest := g.Span()
		r.Suits = append(r.Suits, Suit{
			Dance: f.Dance.Name, BarsPerMinute: f.BarsPerMinute(), BeatsPerMinute: g.Tempo, Competition: f.AtCompetitions(),
			Slowest: slowest, Fastest: fastest, Steady: stretchesOf(g, g.Steady), Doubtful: stretchesOf(g, g.Doubtful),
			FirstBeat: g.Seconds()[0], SureOfBeat: g.SureOfBeat(), SureOfBar: g.SureOfBar(),
			Strength: g.Strength, Phase: g.Phase, Bar: g.Bar,
		})
	}
	if beats && len(r.Suits) > 0 {
		for i, s := range l.Fits[0].Grid.Seconds() {
			r.Beats = append(r.Beats, BeatTime{s, l.Fits[0].Grid.Beats[i].Number})
		}
	}
	return r
}

func stretchesOf(g music.Grid, stretches []music.Stretch) []Part {
	parts := []Part{}
	for _, s := range stretches {
		parts = append(parts, Part{float64(s.From) / float64(g.Rate), float64(s.To) / float64(g.Rate), g.TempoIn(s)})
	}
	return parts
}
