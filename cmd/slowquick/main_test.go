package main

import (
	"flag"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"

	"dance.example/slowquick/cmd/slowquick/arguments"
	"dance.example/slowquick/cmd/slowquick/console"
)

// update rewrites the wanted output of scripts: go test ./cmd/slowquick -update.
var update = flag.Bool("update", false, "write what the commands print into the scripts")

func TestMain(m *testing.M) {
	// Most wait for a terminal or for a dance to end, so that more of them run at once
	// than there are processors.
	if err := flag.Set("test.parallel", "8"); err != nil {
		panic(err)
	}
	testscript.Main(abroad{m}, map[string]func(){"slowquick": main, "script-lines": carryOutLines, "espeak-ng": pretendToSpeak, "ffmpeg": pretendToCompress, "crash": crashOnSignal, "on-disk": onDisk})
}

// abroad runs tests where the system tells no country, whose paper would be taken.
type abroad struct{ *testing.M }

func (a abroad) Run() int {
	for _, locale := range []string{"LC_ALL", "LC_PAPER", "LANG"} {
		os.Unsetenv(locale)
	}
	return a.M.Run()
}

// pretendToCompress is the ffmpeg of the tests.
func pretendToCompress() {
	sound, err := io.ReadAll(os.Stdin)
	if err == nil {
		err = os.WriteFile(os.Args[len(os.Args)-1], fmt.Appendf(nil, "pretended, of %.4s", sound), 0o600)
	}
	if err != nil {
		os.Exit(3)
	}
}

// keepIn writes a kept file into a folder of settings, unless there is one.
func keepIn(config, name, text string) error {
	file := filepath.Join(config, "slowquick", name+".json")
	if _, err := os.Stat(file); err == nil {
		return nil
	}
	if err := os.MkdirAll(filepath.Dir(file), 0o700); err != nil {
		return err
	}
	return os.WriteFile(file, []byte(text), 0o600)
}

// inFolder is the program, which is to be started in a folder.
func inFolder(dir string, args ...string) *exec.Cmd {
	cmd := exec.Command(os.Args[0])
	cmd.Args = append([]string{"slowquick"}, args...) // testscript.Main runs main by this name
	cmd.Dir = dir
	cmd.Env = append(os.Environ(), "TERM=xterm-256color", "XDG_CONFIG_HOME="+dir+"/config", "XDG_STATE_HOME="+dir+"/state", "HOME="+dir)
	return cmd
}

// printsOn is a program that prints on some outputs.
func printsOn(out, errOut io.Writer) *app {
	c := &console.Console{Out: console.Printing(out), Err: console.Printing(errOut)}
	return &app{Reader: &arguments.Reader{Console: c}}
}

const boathouse = `---
dance: cha-cha
title: Boathouse evening
tempo: 32 bars/min
---

## Order

1. Closed basic × 2
`
