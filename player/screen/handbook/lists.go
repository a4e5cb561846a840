package handbook

import "dance.example/slowquick/player/screen/term"

// listLine is a line of a list: an item or, with item -1, the heading of the
// group that follows.
type listLine struct {
	text   string
	item   int
	group  string // that it belongs to
	chosen bool
}

// listLines draws the items that are shown, with a heading before those of each
// group; group is nil if there are none.
func listLines(c *term.Chooser, group func(item int) string, draw func(item int, k term.Ink, mark string) string, t term.Theme) (lines []listLine) {
	for i, item := range c.Shown {
		l := listLine{item: item, chosen: i == c.Chosen}
		k, mark := term.Plain, "  "
		if l.chosen {
			k, mark = t.Present, "> "
		}
		l.text = draw(item, k, mark)
		if group != nil {
			l.group = group(item)
			if len(lines) == 0 || lines[len(lines)-1].group != l.group {
				lines = append(lines, listLine{item: -1, group: l.group})
			}
		}
		lines = append(lines, l)
	}
	return lines
}

// seenLines returns the lines of a list that are seen in rows: those around the
// chosen one, never without the heading of the group that is seen first.
func seenLines(lines []listLine, width, rows int, t term.Theme) []string {
	chosen := 0
	for i := range lines {
		if lines[i].chosen {
			chosen = i
		}
	}
	first := term.FirstSeen(len(lines), chosen, rows)
	var texts []string
	for i := first; i < min(first+rows, len(lines)); i++ {
		l := &lines[i]
		if l.item < 0 || i == first && l.group != "" && !l.chosen {
			texts = append(texts, term.NewRow(width).Put(t.Heading, l.group).String())
			continue
		}
		texts = append(texts, l.text)
	}
	return texts
}
