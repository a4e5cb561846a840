// Package settings is what a dancer sets once: a table of settings, and the file and the
// environment that they are read from.
//
// A setting stands in for the flag of its name where that is not given. The environment goes before
// the file. Begin with [All] and [Read].
package settings

import (
	"path/filepath"
	"slices"

	"github.com/adrg/xdg"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/cmd/slowquick/flags"
	"dance.example/slowquick/player"
	"dance.example/slowquick/player/handout"
	"dance.example/slowquick/player/screen/terminal"
	"dance.example/slowquick/player/screen/view"
	"dance.example/slowquick/routine"
)

// levels are the settings of how loud each layer is.
var levels = []struct {
	name, heard string
	layer       audio.Layer
}{
	{"voice-level", "the voice", player.VoiceLayer}, {"clicks-level", "the clicks", player.ClickLayer},
	{"rhythm-level", "the dance's rhythm", player.RhythmLayer}, {"song-level", "the song", player.MusicLayer},
	{"leader-level", "the leader's steps", player.LeaderLayer}, {"follower-level", "the follower's steps", player.FollowerLayer},
}

// All returns the settings in the order in which they are listed.
func All() []Setting {
	all := []Setting{
		oneOf("paper", "the paper of pages", handout.Papers[:]),
		percent("tempo", "the tempo to start at, of the sheet's or its song's", "100 %", 10, 400),
		bars(),
		oneOf("partner", "whose steps are shown", flags.Partners()),
		oneOf("count", "how counts are said", flags.Counts()),
		oneOf("count-language", "what counts are said in", flags.CountLanguages()),
		oneOf("show", "what the screen shows first", view.Firsts[:]),
		oneOf("pictures", "what the plan of the floor is drawn in", terminal.Settings),
		oneOf(Call, "whether figures are named aloud", []string{no, yes}),
		folder("voice", "your recordings of counts and of figures' names", "its own voice"),
	}
	usual := player.DefaultLevels([2]bool{true, true})
	for _, l := range levels {
		all = append(all, percent(l.name, "the level of "+l.heard, inPercent(usual[l.layer]), 0, 100))
	}
	all = append(all,
		pause(),
		folder(Library, "your own figures and dances", OwnFolder()))
	for i := range all {
		all[i].Everywhere = all[i].Name == "paper" || all[i].Name == Library
		if all[i].Usual == "" {
			all[i].Usual = "the sheet's"
		}
	}
	return all
}

// OwnFolder returns the folder of the dancer's own figures, unless another is set.
func OwnFolder() string { return filepath.Join(xdg.DataHome, "slowquick", "library") }

// Named returns a setting.
func Named(name string) (Setting, bool) {
	all := All()
	i := slices.IndexFunc(all, func(s Setting) bool { return routine.Key(s.Name) == routine.Key(name) })
	if i < 0 {
		return Setting{}, false
	}
	return all[i], true
}

// Names returns the names of all settings.
func Names() (names []string) {
	for _, s := range All() {
		names = append(names, s.Name)
	}
	return names
}
