package routine

import "strings"

// plainFactPattern matches a fact without a bullet.
var plainFactPattern = lazily(`(?i)^ {0,3}[*_]*(?:starts?|ends?|begins?|finish(?:es)?|also called|level|source|parts|begun|family|hold)[*_]*[ \t]*:`)

// facts gives the facts above a chart their bullets.
func (m *mender) facts() {
	lines := m.body()
	heads := m.heads(lines)
	for i, r := range rolesOf(heads) {
		if r != figureRole && r != chartRole {
			continue
		}
		before, below := textLine{}, false // below a fact that had no bullet
		for _, l := range lines[heads[i].line+1 : heads[i].until] {
			isFact := !l.prose && len(l.text) > 0 && l.text[0] != '|' && (strings.IndexByte(l.text, ':') > 0 && plainFactPattern.MatchString(l.text) ||
				below && looseFactPattern.MatchString(l.text) && !bulletPattern.MatchString(l.text) || below && bareFactPattern.MatchString(l.text))
			if isFact {
				mark := "- "
				if !before.blank() && !bulletPattern.MatchString(before.text) && !below {
					mark = "\n- "
				}
				m.write(extent{l.at.from, l.at.from + l.indent()}, mark)
				m.slip(l.at, quoted(l.text)+" is read as a fact")
			}
			before, below = l, isFact
		}
	}
}
