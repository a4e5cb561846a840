package main

import (
	"bytes"
	"encoding/gob"
	"io"
	"os"
	"os/exec"
	"strings"
	"testing"

	"github.com/adrg/xdg"
	"github.com/rogpeppe/go-internal/testscript"
)

// TestScripts runs every command as its users do; see testdata/script. Scripts run in parallel, as some
// wait for a dance to end.
func TestScripts(t *testing.T) {
	t.Parallel()
	testscript.Run(t, testscript.Params{
		Dir:           "testdata/script",
		UpdateScripts: *update,
		Cmds:          map[string]func(*testscript.TestScript, bool, []string){"run": carryOutLine},
		Setup: func(env *testscript.Env) error {
			// No sound server is looked for, no colour is used, and a terminal
			// that answers no query holds nothing up.
			env.Setenv("PULSE_SERVER", "unix:"+env.WorkDir+"/no-server")
			env.Setenv("PATH", env.Getenv("PATH"))
			env.Setenv("TERM", "xterm-256color")
			env.Setenv("XDG_CONFIG_HOME", env.WorkDir+"/.config")
			env.Setenv("XDG_STATE_HOME", env.WorkDir+"/.state")
			env.Setenv("XDG_CACHE_HOME", env.WorkDir+"/.cache")
			env.Setenv("XDG_DATA_HOME", env.WorkDir+"/.data")
			env.Setenv("SPEECH_HEARD", "")
			env.Setenv("SPEECH_FAILS", "")
			for _, variable := range []string{"LC_ALL", "LC_PAPER", "LANG", "SLOWQUICK_PAPER", "SLOWQUICK_PAPR"} {
				env.Setenv(variable, "")
			}
			r := &runner{}
			for _, v := range env.Vars {
				name, _, _ := strings.Cut(v, "=")
				r.variables = append(r.variables, name)
			}
			env.Values["runner"] = r
			env.Defer(r.stop)
			// The cautions were seen.
			return keepIn(env.WorkDir+"/.config", "choices", `{"cautions seen": 1}`)
		},
	})
}

// A runner is a process that carries out the command lines of a script one after another. To start the
// program for each costs more than most of them do; exec does that, for lines that need a process of
// their own or read standard input.
type runner struct {
	variables []string // that scripts may set
	cmd       *exec.Cmd
	in        io.WriteCloser
	lines     *gob.Encoder
	results   *gob.Decoder
}

// A scriptLine is a command line without the program's name, and where it is carried out.
type scriptLine struct {
	Folder string
	Env    []string
	Args   []string
}

// A scriptResult is what came of a command line.
type scriptResult struct {
	Exit     int
	Out, Err string
}

// carryOutLine is the scripts' command run: run check good.md does what exec slowquick check good.md does.
func carryOutLine(ts *testscript.TestScript, neg bool, args []string) {
	r := ts.Value("runner").(*runner)
	ts.Check(r.start())
	line := scriptLine{Folder: ts.MkAbs("."), Args: args}
	for _, name := range r.variables {
		line.Env = append(line.Env, name+"="+ts.Getenv(name))
	}
	ts.Check(r.lines.Encode(line))
	var result scriptResult
	ts.Check(r.results.Decode(&result))
	io.WriteString(ts.Stdout(), result.Out)
	io.WriteString(ts.Stderr(), result.Err)
	if neg == (result.Exit == exitOK) {
		ts.Fatalf("exit code %d", result.Exit)
	}
}

// start starts the process, unless it runs.
func (r *runner) start() (err error) {
	if r.cmd != nil {
		return nil
	}
	cmd := exec.Command(os.Args[0])
	cmd.Args = []string{"script-lines"} // testscript.Main calls carryOutLines by this name
	cmd.Stderr = os.Stderr
	if r.in, err = cmd.StdinPipe(); err != nil {
		return err
	}
	out, err := cmd.StdoutPipe()
	if err != nil {
		return err
	}
	r.cmd, r.lines, r.results = cmd, gob.NewEncoder(r.in), gob.NewDecoder(out)
	return cmd.Start()
}

// stop ends the process.
func (r *runner) stop() {
	if r.cmd != nil && r.cmd.Process != nil {
		r.in.Close()
		r.cmd.Wait()
	}
}

// carryOutLines is the process of a runner. It ends with its input, whatever it is doing.
func carryOutLines() {
	lines := make(chan scriptLine)
	go func() {
		for in := gob.NewDecoder(os.Stdin); ; {
			var line scriptLine
			if in.Decode(&line) != nil {
				os.Exit(exitOK)
			}
			lines <- line
		}
	}()
	results := gob.NewEncoder(os.Stdout)
	for line := range lines {
		if err := results.Encode(line.carryOut()); err != nil {
			os.Exit(exitFailed)
		}
	}
}

func (l scriptLine) carryOut() scriptResult {
	os.Clearenv()
	for _, v := range l.Env {
		name, value, _ := strings.Cut(v, "=")
		os.Setenv(name, value)
	}
	os.Setenv("PWD", l.Folder)
	xdg.Reload()
	if err := os.Chdir(l.Folder); err != nil {
		return scriptResult{exitFailed, "", err.Error()}
	}
	var out, errs bytes.Buffer
	exit := run(l.Args, strings.NewReader(""), &out, &errs)
	return scriptResult{exit, out.String(), errs.String()}
}
