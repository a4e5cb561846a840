package main

import (
	"strings"
	"testing"

	"github.com/spf13/cobra"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/cmd/slowquick/flags"
	"dance.example/slowquick/cmd/slowquick/settings"
	"dance.example/slowquick/player"
	"dance.example/slowquick/player/screen/terminal"
	"dance.example/slowquick/routine"
)

// environment sets variables of settings, and returns a program that has read them.
func environment(t *testing.T, variables map[string]string) *app {
	t.Helper()
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	for name, value := range variables {
		t.Setenv(name, value)
	}
	var out, errs strings.Builder
	a := printsOn(&out, &errs)
	var err error
	a.set, err = settings.Read()
	require.NoError(t, err)
	require.NoError(t, a.set.Wrong)
	return a
}

// TestFlagsTakeWhatSettingsTake: of each setting every word, or a value of its kind, on each command that has the
// flag of that name.
func TestFlagsTakeWhatSettingsTake(t *testing.T) {
	values := map[string][]string{
		"tempo": {"62.5 %"}, "lead-in": {"0", "4"}, "pause-after": {"0", "37.5"}, "voice": {"/boathouse/words"}, "library": {"/boathouse/figures"},
	}
	with := map[string]int{} // commands that have the flag
	for _, s := range settings.All() {
		if strings.HasSuffix(s.Name, "-level") {
			continue // these have none
		}
		for _, value := range append(values[s.Name], s.Words()...) {
			a := environment(t, map[string]string{s.Variable(): value})
			a.eachCommand(a.root(), func(cmd *cobra.Command) {
				cmd.InheritedFlags() // adds them
				flag := cmd.Flags().Lookup(s.Name)
				if flag == nil {
					return
				}
				with[s.Name]++
				before := flag.Value.String()
				a.standIn(cmd)
				want := value
				switch {
				case !s.Everywhere && !flags.Dances(cmd):
					want = before
				case flag.Value.Type() == "bool":
					want = map[string]string{"yes": "true", "no": "false"}[value]
				}
				if s.Name != "lead-in" { // which can't be read back
					assert.Equal(t, want, flag.Value.String(), "%s of %s", s.Name, cmd.CommandPath())
				}
				assert.False(t, flag.Changed)
			})
		}
		assert.NotZero(t, with[s.Name], s.Name)
	}
}

// eachCommand calls f with a command and all below it.
func (a *app) eachCommand(cmd *cobra.Command, f func(*cobra.Command)) {
	f(cmd)
	for _, sub := range cmd.Commands() {
		a.eachCommand(sub, f)
	}
}

// TestTheListDancesAsIsSet, and so does a session, but for the tempo, which it sets itself.
func TestTheListDancesAsIsSet(t *testing.T) {
	a := environment(t, map[string]string{
		"SLOWQUICK_TEMPO": "70", "SLOWQUICK_LEAD_IN": "3", "SLOWQUICK_PARTNER": "follower", "SLOWQUICK_COUNT": "words", "SLOWQUICK_SHOW": "plan",
		"SLOWQUICK_PICTURES": "dots", "SLOWQUICK_CALL": "yes", "SLOWQUICK_VOICE": "/boathouse/words", "SLOWQUICK_PAUSE_AFTER": "30",
	})
	three := 3
	want := flags.Dance{
		Tempo: "70 %", LeadIn: &three, Dancers: routine.FollowerAlone, Count: player.Counting{Style: routine.InWords}, View: 1, Pictures: terminal.Setting(2),
		Call: true, Voice: "/boathouse/words", PauseAfter: 30,
	}
	assert.Equal(t, want, a.usual())
	want.Tempo, want.Dancers, want.PauseAfter = "", routine.LeaderAlone, 10
	assert.Equal(t, want, a.inSession(flags.Dance{Dancers: routine.LeaderAlone, PauseAfter: 10}))
}
