package speech

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"time"
)

// program speaks a text that it gets on standard input or as its last argument. The sound comes on
// standard output or in a file.
type program struct {
	name     string
	args     []string
	last     bool // whether the text is the last argument
	file     bool // whether the argument {} is the file to write
	path     string
	failures int // in a row
}

// fileArg stands for the file that a program writes.
const fileArg = "{}"

// known are speech programs, best first, with the arguments that make them speak English at an even
// pace. Those of espeak-ng and flite were tried, the others are from their manuals.
func known() []program {
	return []program{
		{name: "espeak-ng", args: []string{"-v", "en-gb", "-s", "190", "--stdin", "--stdout"}},
		{name: "espeak", args: []string{"-v", "en-gb", "-s", "190", "--stdin", "--stdout"}},
		{name: "flite", args: []string{"-voice", "slt", "-f", "-", "-o", fileArg}, file: true},
		{name: "pico2wave", args: []string{"-l", "en-GB", "-w", fileArg, "--"}, last: true, file: true},
		{name: "say", args: []string{"-o", fileArg, "--file-format=WAVE", "--data-format=LEI16@22050", "-f", "-"}, file: true},
	}
}

// installed returns the known programs on PATH, ignoring the current folder.
func installed() (found []*program) {
	for _, p := range known() {
		path, err := exec.LookPath(p.name)
		if err != nil || !filepath.IsAbs(path) {
			continue
		}
		p.path = path
		found = append(found, &p)
	}
	return found
}

var (
	errTooMuch = fmt.Errorf("wrote more than %d bytes", largestSpeech)
	errGarbage = errors.New("wrote no recording")
)

// dies is how long a program that was ended may hold its output open.
const dies = time.Second

// speak runs the program once and returns what it wrote, at most largestSpeech bytes. No shell sees the
// text.
func (p *program) speak(ctx context.Context, text string) ([]byte, error) {
	ctx, end := context.WithCancelCause(ctx)
	defer end(nil)
	args, written := append([]string{}, p.args...), ""
	if p.file {
		folder, err := os.MkdirTemp("", "slowquick-speech-")
		if err != nil {
			return nil, err
		}
		defer os.RemoveAll(folder) // a folder of its own, whose files are of no further use
		written = filepath.Join(folder, "spoken.wav")
		for i, a := range args {
			args[i] = strings.ReplaceAll(a, fileArg, written)
		}
	}
	if p.last {
		args = append(args, text)
	}
	out := &bounded{full: func() { end(errTooMuch) }}
	cmd := exec.CommandContext(ctx, p.path, args...)
	cmd.Stdout, cmd.WaitDelay = out, dies
	defer endsWhole(cmd)()
	if !p.last {
		cmd.Stdin = strings.NewReader(text)
	}
	if p.file {
		go watch(ctx, written, end)
	}
	err := cmd.Run()
	switch {
	case ctx.Err() != nil:
		return nil, context.Cause(ctx)
	case err != nil:
		return nil, err
	case p.file:
		return readKept(written)
	}
	return out.data, nil
}

const largestSpeech = 1 << 20 // bytes: a dozen seconds

// bounded keeps what is written to it, up to largestSpeech bytes. It does not embed a [bytes.Buffer],
// whose ReadFrom would bypass Write.
type bounded struct {
	data []byte
	full func() // called when more comes
}

func (b *bounded) Write(data []byte) (int, error) {
	if len(b.data)+len(data) > largestSpeech {
		b.full()
		return 0, errTooMuch
	}
	b.data = append(b.data, data...)
	return len(data), nil
}

// watch ends a program whose file grows too large.
func watch(ctx context.Context, path string, end context.CancelCauseFunc) {
	tick := time.NewTicker(20 * time.Millisecond)
	defer tick.Stop()
	for {
		select {
		case <-ctx.Done():
			return
		case <-tick.C:
			if info, err := os.Lstat(path); err == nil && info.Size() > largestSpeech {
				end(errTooMuch)
				return
			}
		}
	}
}

// readKept reads a regular file of at most largestSpeech bytes.
func readKept(path string) ([]byte, error) {
	info, err := os.Lstat(path)
	switch {
	case err != nil:
		return nil, errGarbage
	case !info.Mode().IsRegular():
		return nil, errors.New("not a regular file")
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, largestSpeech+1))
	if err == nil && len(data) > largestSpeech {
		err = errTooMuch
	}
	return data, err
}
