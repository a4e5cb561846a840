package routine

import (
	"bytes"
	"fmt"
	"slices"
	"strings"

	"github.com/mattn/go-runewidth"
)

// Tidy rewrites a sheet in its one form: charts aligned by display width, steps, counts, stances and
// order in the words that this package writes. Prose, titles, names and settings at the top stay as
// they are; line ends become "\n". It never changes what is danced, and tidying twice changes nothing.
//
// A sheet with something that can't be read is returned unchanged, with the findings that say why.
func Tidy(name string, src []byte, book Book) ([]byte, []Finding) {
	s, f := parse(name, src, book)
	f.counts(s)
	if HasErrors(f.list) {
		return src, Sorted(f.list)
	}
	t := tidier{parser: &parser{findings: &findings{src: s.src}, sheet: s}}
	for i := range s.written {
		t.item(&s.written[i])
	}
	for _, fig := range s.Figures {
		for _, fact := range fig.text.facts {
			t.fact(fact)
		}
		for i := range fig.text.tables {
			t.table(&fig.text.tables[i])
		}
	}
	return t.apply(), Sorted(f.list)
}

// tidier collects the edits.
type tidier struct {
	*parser
	edits []edit
}

func (t *tidier) write(at extent, text string) { t.edits = append(t.edits, edit{at: at, text: text}) }

// apply makes the edits and normalises the line ends.
func (t *tidier) apply() []byte {
	slices.SortStableFunc(t.edits, func(a, b edit) int { return a.at.from - b.at.from })
	var out bytes.Buffer
	at := 0
	for _, e := range t.edits {
		out.Write(t.src.text[at:e.at.from])
		out.WriteString(e.text)
		at = e.at.to
	}
	out.Write(t.src.text[at:])
	text := bytes.TrimPrefix(out.Bytes(), []byte("\ufeff"))
	if len(text) > 0 && text[len(text)-1] != '\n' {
		text = append(text, '\n')
	}
	return bytes.ReplaceAll(text, []byte("\r\n"), []byte("\n"))
}

// item writes "Spot turn, steps 1–5 × 2 — with a smile", keeping the remark as it is.
func (t *tidier) item(item *Item) {
	text := t.src.slice(item.name)
	if line := strings.Join(strings.Fields(text), " "); !strings.Contains(text, "\n") || !t.saysMore(line) {
		text = line
	}
	if item.steps[0] != 0 {
		text += ", " + Steps(item.steps[0]-1, item.steps[1])
	}
	if item.share.unit != wholeFigure {
		text += ", " + strings.Join(strings.Fields(t.src.slice(item.shareAt)), " ")
	}
	if item.Times > 1 {
		text += fmt.Sprintf(" × %d", item.Times)
	}
	for i, at := range item.remarks {
		text += [2]string{" — ", ", "}[min(i, 1)] + strings.TrimSpace(t.src.slice(at))
	}
	t.write(item.text, text)
	for _, fact := range item.sets {
		switch fact.name {
		case "tempo":
			t.write(extent{fact.key.from, fact.value.to}, "tempo: "+item.TempoText(t.sheet.Dance))
		case "ends":
			t.fact(fact)
		case "count":
			t.write(extent{fact.key.from, fact.value.to}, "count: "+item.Style.String())
		case "corner":
			t.write(extent{fact.key.from, fact.value.to}, "corner: after")
		}
	}
}

// saysMore reports whether lines below each other would be read otherwise as one.
func (t *tidier) saysMore(line string) bool {
	_, led := leadOf(line)
	return led || len((&listMender{known: t.has}).several(line)) > 0
}

// TempoText returns the item's tempo as a sheet of its dance writes it: in bars a minute where that is exact.
func (item *Item) TempoText(d *Dance) string {
	bars := Tempo(d.Metre.Beats)
	number := func(x Tempo) string { return trimNumber(x.Float()) }
	unit := " beats/min"
	if item.Tempo%bars == 0 && item.TempoTo%bars == 0 {
		number = func(x Tempo) string { return trimNumber((x / bars).Float()) }
		unit = " bars/min"
	}
	if item.Tempo == item.TempoTo {
		return number(item.Tempo) + unit
	}
	return number(item.Tempo) + " to " + number(item.TempoTo) + unit
}

// fact writes what it understands of a fact in full words; other facts stay as they are.
func (t *tidier) fact(fact factText) {
	text := ""
	switch fact.name {
	case "starts", "ends":
		text = t.stance(fact.value).String()
	case "parts":
		text = (&Use{Parts: t.pieces(fact.value)}).PartsText()
	case "begun":
		text = (&Use{Begun: t.begun(fact.value)}).BegunText()
	case "family":
		text = t.family(fact.value).String()
	default:
		return
	}
	t.write(extent{fact.key.from, fact.value.to}, strings.TrimRight(fact.name+": "+text, " "))
}

// String returns s as a sheet writes it: "closed or open facing, leader LF free".
func (s Stance) String() string {
	var parts []string
	if s.Positions != 0 {
		parts = append(parts, s.Positions.String())
	}
	if s.AsStarted {
		parts = append(parts, "as started")
	}
	if s.Hands != 0 {
		parts = append(parts, s.Hands.String())
	}
	for _, p := range Partners() {
		if s.Free[p] != NoFoot {
			parts = append(parts, fmt.Sprintf("%s %s free", p, s.Free[p]))
		}
	}
	for _, p := range Partners() {
		switch a := s.Facing[p]; {
		case a.Stand == NoStand:
		case p == Leader:
			parts = append(parts, a.String()+s.others(p))
		default:
			parts = append(parts, p.String()+" "+a.String()+s.others(p))
		}
	}
	text := strings.Join(parts, ", ")
	if s.Note != "" {
		text = strings.TrimSpace(text + " (" + s.Note + ")")
	}
	return text
}

// others returns the other alignments on which a partner may stand, " or LOD or wall".
func (s Stance) others(p Partner) (text string) {
	for _, t := range s.Or {
		text += " or " + s.Facing[p].To.Turned(t).String()
	}
	return text
}

// width measures text in terminal columns, independent of the locale.
var width = &runewidth.Condition{}

// table writes a chart with its columns aligned.
func (t *tidier) table(tt *tableText) {
	rows := make([][]string, len(tt.cells))
	widths := make([]int, len(tt.columns))
	for r, cells := range tt.cells {
		for c, at := range cells {
			if tt.columns[c] > followerColumn { // folded into the steps
				rows[r] = append(rows[r], "")
				continue
			}
			text := strings.TrimSpace(t.src.slice(at))
			if r == 0 && (lex().foreign[columnKey(text)] || text == "" && tt.columns[c] == countColumn) {
				text = columnWords[tt.columns[c]]
			}
			if r > 0 && r <= len(tt.rows) {
				text = tt.rows[r-1].cell(tt.columns[c], text)
			}
			rows[r] = append(rows[r], text)
			widths[c] = max(widths[c], width.StringWidth(text), 3)
		}
	}
	var out strings.Builder
	line := func(cells []string) {
		for c, text := range cells {
			if tt.columns[c] > followerColumn {
				continue
			}
			pad := widths[c] - width.StringWidth(text)
			left := 0
			switch {
			case tt.columns[c] == countColumn:
				left = pad / 2
			case tt.aligns[c] == "right":
				left = pad
			case tt.aligns[c] == "center":
				left = pad / 2
			}
			out.WriteString("| " + strings.Repeat(" ", left) + text + strings.Repeat(" ", pad-left) + " ")
		}
		out.WriteString("|")
	}
	line(rows[0])
	out.WriteString("\n")
	for c, w := range widths {
		if tt.columns[c] > followerColumn {
			continue
		}
		left, right := "-", "-"
		if a := tt.aligns[c]; tt.columns[c] == countColumn || a == "center" {
			left, right = ":", ":"
		} else if a == "left" {
			left = ":"
		} else if a == "right" {
			right = ":"
		}
		out.WriteString("|" + left + strings.Repeat("-", w) + right)
	}
	out.WriteString("|")
	for _, cells := range rows[1:] {
		out.WriteString("\n")
		line(cells)
	}
	t.write(tt.whole, out.String())
}

// cell returns the text of a row's cell in its one form.
func (r *Row) cell(c column, text string) string {
	switch c {
	case countColumn:
		return r.Count.String()
	case leaderColumn, followerColumn:
		return r.Steps[c-leaderColumn].String()
	}
	return text
}
