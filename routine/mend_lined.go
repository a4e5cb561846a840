package routine

import "strings"

// countedLine matches a step on a line of its own: its count, and where the foot goes.
var countedLine = lazily(`^[ \t]*(?:[-*+•][ \t]+)?(\S{1,10}?)[ \t]*[:.)–—-]?[ \t]+(\S.*?)[ \t]*$`)

// lined writes steps that stand line by line below a partner's name as that partner's chart.
func (m *mender) lined() {
	lines := m.body()
	level := 0 // of the figure's heading
	for i, l := range lines {
		if l.prose || l.blank() || len(l.text) > longestName || strings.IndexByte("|-0123456789", l.text[0]) >= 0 {
			continue
		}
		marks, name := heading(l.text)
		if marks == "" {
			name = l.text
		}
		name = strings.TrimRight(headingText(name), ": ")
		_, owned := ownerOf(name)
		switch {
		case !owned && marks != "":
			level = len(marks)
		case owned && level > 0:
			m.linedBelow(lines, i, name, strings.Repeat("#", level+1))
		}
	}
}

// linedBelow writes the steps below a partner's name, the line i, as a chart, and the name as its heading.
func (m *mender) linedBelow(lines []textLine, i int, name, marks string) {
	from := linedFrom(lines, i)
	if from == 0 {
		return
	}
	end := countedUntil(lines, from)
	if l := lines[i]; !isHeading(l.text) {
		m.write(l.at, marks+" "+name)
		m.apart(lines, i)
	}
	m.apart(lines, from)
	m.write(extent{lines[from].at.from, lines[from].at.from}, "| Count | Steps |\n|---|---|\n")
	for _, l := range lines[from:end] {
		at := countedLine.FindStringSubmatchIndex(l.text)
		m.write(extent{l.at.from, l.at.from + at[2]}, "| ")
		m.write(extent{l.at.from + at[3], l.at.from + at[4]}, " | ")
		m.write(extent{l.at.from + at[5], l.at.to}, " |")
	}
	m.apart(lines, end)
	m.slip(lines[i].at, "the lines below "+quoted(name)+" are read as a chart")
}

// linedFrom returns the line with which the steps of a partner begin whose name the line i is; 0 if it is none, or no steps follow.
func linedFrom(lines []textLine, i int) int {
	if !isPartner(lines[i].text) {
		return 0
	}
	from := i + 1
	for from < len(lines) && lines[from].blank() {
		from++
	}
	if countedUntil(lines, from) == from {
		return 0
	}
	return from
}

// isPartner reports whether a line only names a partner.
func isPartner(line string) bool {
	if len(line) > longestName {
		return false
	}
	if marks, name := heading(line); marks != "" {
		line = name
	}
	_, owned := ownerOf(strings.TrimRight(headingText(line), ": "))
	return owned
}

// isChartName reports whether a line is the heading of a chart.
func isChartName(line string) bool {
	marks, name := heading(line)
	return marks != "" && ownsChart(name)
}

// countedUntil returns the end of the paragraph or list that begins with the line from, if each of its lines is a count and a
// step, and two of the steps can be read; else it returns from.
func countedUntil(lines []textLine, from int) int {
	end, steps := from, 0
	for ; end < len(lines) && !lines[end].blank() && !isHeading(lines[end].text); end++ {
		l := lines[end]
		if isPartner(l.text) {
			break
		}
		at := countedLine.FindStringSubmatch(l.text)
		if at == nil || l.prose || len(l.text) > longestCell || strings.Contains(l.text, "|") || !areCounts(at[1]) {
			return from
		}
		if step, found := ParseStep(at[2]); len(found) == 0 && !step.Stands() {
			steps++
		}
	}
	if steps < 2 {
		return from
	}
	return end
}

// areCounts reports whether a text is a count, or several: "4 & 1".
func areCounts(text string) bool {
	p := parser{findings: &findings{src: newSource([]byte(text))}}
	return len(p.counts(extent{0, len(text)}, holds)) > 0
}
