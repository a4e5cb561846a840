package main

import (
	"cmp"
	"fmt"
	"os"
	"runtime"
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// atTerminal reports whether what is printed is read at a terminal.
func (a *app) atTerminal() bool { return isTerminal(a.out.raw) }

// draws reports whether a screen can be drawn, and tells at a terminal why not.
func (a *app) draws() bool {
	if !a.atTerminal() {
		return false
	}
	lacks := ""
	switch term := os.Getenv("TERM"); {
	case term == "dumb", term == "" && runtime.GOOS != "windows":
		lacks = fmt.Sprintf("the terminal is TERM=%q", term)
	case !inUTF8():
		lacks = fmt.Sprintf("the locale %s has no UTF-8, as LANG=C.UTF-8 has", locale())
	}
	if lacks != "" {
		fmt.Fprintf(a.err, "slowquick: hint: lines are printed instead of a screen: %s\n", lacks)
	}
	return lacks == ""
}

// locale is the one for letters; "" if none is named.
//
// Source: POSIX.1-2024, 8.2: LC_ALL goes before LC_CTYPE, and that before LANG.
func locale() string {
	return cmp.Or(os.Getenv("LC_ALL"), os.Getenv("LC_CTYPE"), os.Getenv("LANG"))
}

// inUTF8 reports whether a terminal takes more than ASCII: no locale that is named says
// otherwise, as "C" does, or "de_DE.ISO-8859-1".
func inUTF8() bool {
	name, _, _ := strings.Cut(locale(), "@")
	name, letters, told := strings.Cut(name, ".")
	if !told {
		return name != "C" && name != "POSIX" // nowadays the others are
	}
	letters = strings.ReplaceAll(strings.ToLower(letters), "-", "")
	return letters == "utf8"
}

// inASCII writes a text with what every terminal can show.
func inASCII(text []byte) []byte {
	var out strings.Builder
	for _, r := range norm.NFKD.String(string(text)) { // ½ is 1⁄2, é is e and an accent
		switch {
		case r <= unicode.MaxASCII:
			out.WriteRune(r)
		case unicode.Is(unicode.Mn, r):
		case unicode.Is(unicode.Pd, r), r == '−':
			out.WriteByte('-')
		case r == '⁄':
			out.WriteByte('/')
		case r == '×':
			out.WriteByte('x')
		case r == '‘', r == '’':
			out.WriteByte('\'')
		case r == '“', r == '”':
			out.WriteByte('"')
		case r == '·':
			out.WriteByte(',')
		case r == '\u2800': // a plan's cell without a dot
			out.WriteByte(' ')
		case r > '\u2800' && r <= '\u28ff':
			out.WriteByte('*')
		case r >= '▀' && r <= '▟':
			out.WriteByte('#')
		default:
			out.WriteByte('?')
		}
	}
	return []byte(out.String())
}
