package routine

import (
	"slices"
	"strings"
)

// settingPattern matches a line as the front matter has it: its name and its value. The name may stand in bold, and
// the line be an item of a list.
var settingPattern = lazily(`^(?:[-*+•][ \t]+)?[*_]*(\pL[\pL -]{0,30}?)[*_]*(?:[ \t]*:[*_]*[ \t]+|[ ]*\t[ \t]*|[ \t]*=[ \t]*)(\S.*?)[ \t]*$`)

// SettingNamed returns the English name of a setting, however it is written.
func SettingNamed(name string) string {
	name = strings.ToLower(strings.TrimSpace(name))
	if slices.Contains(sheetKeys, name) || slices.Contains(danceKeys, name) {
		return name
	}
	if english, ok := lex().settings[fold(name)]; ok {
		return english
	}
	return name
}

// mostAbove is how many lines may stand above the settings of a sheet that has no front matter: its name, and a
// remark or two.
const mostAbove = 8

// fences makes front matter of the settings at the top of a sheet where one or both lines of "---" are missing, or
// where the sheet's name stands above them.
func (m *mender) fences() {
	if front, _ := frontEnd(m.src.text); front != (extent{}) {
		return
	}
	var block []textLine // the settings
	opened, named := false, false
	above := 0
	for _, l := range m.lines() {
		l.text = strings.TrimPrefix(l.text, "\ufeff")
		l.at.from = l.at.to - len(l.text)
		setting := settingPattern.FindStringSubmatch(l.text)
		if setting != nil && isOrderName(setting[1]) {
			setting = nil
		}
		if len(block) > 0 && setting == nil || above > mostAbove {
			if named {
				m.enclose(block, l, opened)
			}
			if named || above > mostAbove || opened {
				return
			}
			block = nil
		}
		switch {
		case setting != nil && !l.prose:
			block = append(block, l)
			named = named || SettingNamed(setting[1]) == "dance"
		case len(block) == 0 && above == 0 && strings.TrimRight(l.text, " \t") == "---":
			opened = true
		case l.prose, itemPattern.MatchString(l.text), strings.Contains(l.text, "|"), isHeading(l.text) && above > 0, isOrderName(headingText(l.text)):
			return
		case !l.blank():
			above++
		}
	}
	if named {
		end := len(m.src.text)
		m.enclose(block, textLine{at: extent{end, end}}, opened)
	}
}

// enclose puts the settings of a block between lines of "---" at the top, unless they are opened, and what stands
// above them below. They end before the line after.
func (m *mender) enclose(block []textLine, after textLine, opened bool) {
	first := block[0].at.from
	what := "the settings at the top are read without their lines of ---"
	above := ""
	if opened {
		what = "the settings at the top are read without the second ---"
	} else {
		start := len(m.src.text) - len(strings.TrimPrefix(string(m.src.text), "\ufeff"))
		if above = strings.TrimSpace(string(m.src.text[start:first])); above == "" {
			start = first
		}
		m.write(extent{start, first}, "---\n")
	}
	for _, l := range block {
		s := settingPattern.FindStringSubmatchIndex(l.text)
		if s[2] > 0 {
			m.write(extent{l.at.from, l.at.from + s[2]}, "")
		}
		if between := l.text[s[3]:s[4]]; strings.TrimLeft(between, " \t:") != "" || !strings.Contains(between, ":") {
			m.write(extent{l.at.from + s[3], l.at.from + s[4]}, ": ")
		}
	}
	if above != "" {
		above = "\n" + above + "\n"
	}
	if strings.TrimRight(after.text, " \t") != "---" {
		above = "---\n" + above
		if block[len(block)-1].at.to == after.at.from { // the text ends there
			above = "\n" + above
		}
	}
	if above != "" {
		m.write(extent{after.at.from, after.at.from}, above)
	}
	m.slip(extent{first, max(first, after.at.from-1)}, what)
}

// settings writes the names of settings in English.
func (m *mender) settings() {
	front, _ := frontEnd(m.src.text)
	for _, l := range m.lines() {
		if l.at.to > front.to {
			return
		}
		at := settingPattern.FindStringSubmatchIndex(l.text)
		if at == nil || at[2] != 0 {
			continue
		}
		written := l.text[at[2]:at[3]]
		if name := SettingNamed(written); name != strings.ToLower(written) {
			m.write(extent{l.at.from, l.at.from + len(written)}, name)
			m.slip(l.at, quoted(written)+" is read as "+quoted(name))
		}
	}
}
