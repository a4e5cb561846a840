package main

import (
	"bytes"
	"cmp"
	"encoding/json"
	"fmt"
	"io"
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"

	"dance.example/slowquick/routine"
)

// message is what an error says, harmless in each of its lines: it may name a file. What
// follows the first line is set in, so that it is taken for no message of its own.
func message(err error) string {
	lines := strings.Split(err.Error(), "\n")
	for i := range lines {
		lines[i] = harmless(lines[i])
	}
	return strings.Join(lines, "\n  ")
}

// printed is an output for people. Nothing that is printed there, as the name of a
// file, reaches the terminal as a command; raw is for what is no text, and for the
// screen.
type printed struct {
	raw   io.Writer
	ascii bool // no other letters can be shown

	mu  sync.Mutex
	err error // why something could not be printed, the first time
}

// Write prints whole lines, or parts of them that end between two characters.
func (p *printed) Write(text []byte) (int, error) {
	shown := clean(text)
	if p.ascii {
		shown = inASCII(shown)
	}
	_, err := p.raw.Write(shown)
	p.mu.Lock()
	defer p.mu.Unlock()
	p.err = cmp.Or(p.err, err)
	return len(text), err
}

// printing prints on an output.
func printing(out io.Writer) *printed {
	return &printed{raw: out, ascii: isTerminal(out) && !inUTF8()}
}

// failed is why something could not be printed; nil if all could.
func (p *printed) failed() error {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.err
}

// clean is a text of several lines in which nothing is a command to a terminal.
func clean(text []byte) []byte {
	if !bytes.ContainsFunc(text, func(r rune) bool { return r != '\n' && unfit(r) }) {
		return text
	}
	lines := strings.Split(string(text), "\n")
	for i, line := range lines {
		parts := strings.Split(strings.TrimSuffix(line, "\r"), "\t")
		for j, part := range parts {
			parts[j] = harmless(part)
		}
		lines[i] = strings.Join(parts, "\t")
	}
	return []byte(strings.Join(lines, "\n"))
}

// unfit reports what may not reach a terminal: a part of a character neither.
func unfit(r rune) bool { return r == utf8.RuneError || routine.UnsafeRune(r) }

// escaped is JSON that says the same and has no character that is unfit for a terminal.
func escaped(text []byte) []byte {
	var out bytes.Buffer
	for _, r := range string(text) {
		if r >= unicode.MaxASCII && routine.UnsafeRune(r) { // all of them below U+10000
			fmt.Fprintf(&out, "\\u%04x", r)
		} else {
			out.WriteRune(r)
		}
	}
	return out.Bytes()
}

// harmless keeps a line of a sheet from reaching the terminal as a command.
func harmless(line string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\t':
			return ' '
		case routine.UnsafeRune(r):
			return unicode.ReplacementChar
		}
		return r
	}, line)
}

func (a *app) printJSON(v any) error {
	var text bytes.Buffer
	enc := json.NewEncoder(&text)
	enc.SetIndent("", "  ")
	enc.SetEscapeHTML(false)
	err := enc.Encode(v)
	if err == nil {
		_, err = a.out.raw.Write(escaped(text.Bytes()))
	}
	if err != nil {
		return failed(fmt.Errorf("print: %w", err), "")
	}
	return nil
}
