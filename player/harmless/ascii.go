package harmless

import (
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// ASCII returns a text in characters that every terminal can show.
func ASCII(text []byte) []byte {
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
