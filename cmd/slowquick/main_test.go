package main

import (
	"flag"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

// update rewrites the wanted output of scripts: go test ./cmd/slowquick -update.
var update = flag.Bool("update", false, "write what the commands print into the scripts")

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"slowquick": main, "espeak-ng": pretendToSpeak})
}

// TestScripts runs every command as its users do; see testdata/script.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:           "testdata/script",
		UpdateScripts: *update,
		Setup: func(env *testscript.Env) error {
			// No sound server is looked for, no colour is used, and a terminal
			// that answers no query holds nothing up.
			env.Setenv("PULSE_SERVER", "unix:"+env.WorkDir+"/no-server")
			env.Setenv("PATH", env.Getenv("PATH"))
			env.Setenv("TERM", "xterm-256color")
			env.Setenv("XDG_CONFIG_HOME", env.WorkDir+"/.config")
			env.Setenv("XDG_STATE_HOME", env.WorkDir+"/.state")
			env.Setenv("XDG_CACHE_HOME", env.WorkDir+"/.cache")
			return nil
		},
	})
}
