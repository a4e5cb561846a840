package handout

import (
	"bufio"
	"fmt"
	"io"
	"regexp"
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/mattn/go-runewidth"

	"dance.example/slowquick/player/handout/prose"
	"dance.example/slowquick/player/harmless"
	"dance.example/slowquick/routine"
)

// Markdown writes a sheet that holds the whole routine, with the library's figures, so that it can be
// checked, danced and changed without the library. Of a part of a routine it holds just that part. The
// tempo is the sheet's own; other options are described in words.
func Markdown(w io.Writer, s Sheet) error {
	p := newProgramme(s.Line, s.Options)
	m := markdownWriter{Writer: bufio.NewWriter(w), programme: p}
	m.front()
	fmt.Fprintf(m, "# %s\n", mdName(p.Title))
	if how := p.practice(); how != "" {
		fmt.Fprintf(m, "\n%s\n", mdLine(how))
	}
	for _, section := range p.Prose.Intro {
		if section.Name != "" {
			fmt.Fprintf(m, "\n## %s\n", mdLine(section.Name))
		}
		m.blocks(section.Blocks, "")
	}
	m.order()
	for i := range p.Figures {
		again := func(f figurePart) bool { return f.figure.Charted() == p.Figures[i].figure.Charted() }
		if !slices.ContainsFunc(p.Figures[:i], again) { // its chart says how else it may be danced
			m.figure(&p.Figures[i])
		}
	}
	if err := m.Flush(); err != nil {
		return fmt.Errorf("write handout: %w", err)
	}
	return nil
}

// practice says how the routine is practised, if it differs from the sheet.
func (p *programme) practice() string {
	var parts []string
	for _, f := range p.Facts {
		usual := f.Name == "Tempo" && p.set.Settings.Percent == 100 && p.seconds(p.timeline.End) == p.timeline.Seconds(p.timeline.End)-p.timeline.Seconds(p.set.part(p.timeline).From)
		if (f.Name == "Tempo" && !usual) || f.Name == "Danced" || f.Name == "Part" {
			parts = append(parts, strings.ToLower(f.Name)+" "+f.Value)
		}
	}
	if len(parts) == 0 {
		return ""
	}
	return "To practise: " + strings.Join(parts, "; ") + "."
}

type markdownWriter struct {
	*bufio.Writer
	*programme
}

// front copies the sheet's front matter. The leader's alignment is rewritten if the part does not begin
// at the routine's start.
func (m markdownWriter) front() {
	text := m.timeline.Score.FrontMatter()
	if from, _ := m.set.passages(m.timeline); from > 0 {
		faces := m.timeline.Score.Passages[from].Begins.Facing[routine.Leader]
		text = regexp.MustCompile(`(?m)^faces[ \t]*:.*\n`).ReplaceAllLiteralString(text, "faces: "+faces.String()+"\n")
	}
	if text != "" {
		fmt.Fprintf(m, "---\n%s---\n\n", text)
	}
}

// order writes the items that are danced, with their numbers in the sheet.
func (m markdownWriter) order() {
	fmt.Fprint(m, "\n## Order\n\n")
	for _, o := range m.Order {
		item := o.item
		text := item.Figure.Part(item.From, item.To)
		if item.Times > 1 {
			text += fmt.Sprintf(" × %d", item.Times)
		}
		if item.Remark != "" {
			text += " — " + item.Remark
		}
		mark := fmt.Sprintf("%d. ", o.Number)
		fmt.Fprintf(m, "%s%s\n", mark, mdName(text))
		for _, f := range m.settings(item) {
			fmt.Fprintf(m, "%*s- %s: %s\n", len(mark), "", f.Name, f.Value)
		}
	}
	for _, b := range m.Prose.Order {
		if b.Kind == "ul" { // below the last item it would be read as that item's settings
			b = prose.Block{Kind: "quote", Items: [][]prose.Block{{b}}}
		}
		m.blocks([]prose.Block{b}, "")
	}
}

// settings returns an item's settings, as a sheet has them.
func (m markdownWriter) settings(item *routine.Item) (list []fact) {
	if item.Tempo != 0 {
		list = append(list, fact{"tempo", item.TempoText(m.timeline.Score.Dance)})
	}
	if ends := (routine.Stance{Positions: item.Ends, Hands: item.Hands}).String(); ends != "" {
		list = append(list, fact{"ends", ends})
	}
	if item.Style != routine.StyleUnset {
		list = append(list, fact{"count", item.Style.String()})
	}
	if item.Corner {
		list = append(list, fact{"corner", "after"})
	}
	return list
}

// figure writes a figure's section, with all of its steps.
func (m markdownWriter) figure(f *figurePart) {
	fig := f.figure.Charted()
	fmt.Fprintf(m, "\n## %s\n", mdName(fig.Name))
	m.blocks(f.Prose, "")
	var facts []fact
	add := func(name, value string) {
		if value != "" && value != "0" {
			facts = append(facts, fact{name, value})
		}
	}
	add("also called", strings.Join(fig.Aliases, ", "))
	add("level", fmt.Sprint(fig.Level))
	partners := m.charted(fig)
	add("starts", told(fig.Starts, partners))
	add("ends", told(fig.Ends, partners))
	add("source", fig.Source)
	add("parts", fig.PartsText())
	add("begun", fig.BegunText())
	add("family", fig.Family.String())
	if len(facts) > 0 {
		fmt.Fprintln(m)
	}
	for _, x := range facts {
		fmt.Fprintf(m, "- %s: %s\n", x.Name, mdName(x.Value))
	}
	for _, partners := range tables(fig, partners) {
		m.chart(fig, partners)
	}
}

// charted returns the partners whose steps a figure's chart has: those shown or, if they have none, the
// other, as a chart without steps can't be read.
func (m markdownWriter) charted(fig *routine.Figure) (partners []routine.Partner) {
	for _, q := range m.set.Partners() {
		if fig.Has[q] {
			partners = append(partners, q)
		}
	}
	for _, q := range routine.Partners() {
		if fig.Has[q] && !m.set.Shown[q] && len(partners) == 0 {
			partners = append(partners, q)
		}
	}
	return partners
}

// told returns a stance without what it says about partners who are not shown.
func told(s routine.Stance, partners []routine.Partner) string {
	for _, q := range routine.Partners() {
		if !slices.Contains(partners, q) {
			s.Free[q], s.Facing[q] = routine.NoFoot, routine.Alignment{}
		}
	}
	return s.String()
}

// tables returns the partners whose steps share a table: both, unless one of them has no step on a
// count of the other.
func tables(fig *routine.Figure, partners []routine.Partner) [][]routine.Partner {
	apart := slices.ContainsFunc(partners, func(q routine.Partner) bool {
		return slices.ContainsFunc(fig.Rows, func(r routine.Row) bool { return !r.Written[q] })
	})
	if !apart {
		return [][]routine.Partner{partners}
	}
	return slices.Collect(slices.Chunk(partners, 1))
}

// chart writes a table with aligned columns.
func (m markdownWriter) chart(fig *routine.Figure, partners []routine.Partner) {
	rows := [][]string{{"Count"}}
	for _, q := range partners {
		rows[0] = append(rows[0], title(q.String()))
	}
	for i := range fig.Rows {
		r := &fig.Rows[i]
		cells := []string{r.Count.String()}
		written := false
		for _, q := range partners {
			cells = append(cells, mdName(r.Steps[q].String()))
			written = written || r.Written[q]
		}
		if written {
			rows = append(rows, cells)
		}
	}
	widths := columnWidths(rows)
	fmt.Fprintln(m)
	for i, cells := range rows {
		for c, cell := range cells {
			pad := widths[c] - runewidth.StringWidth(cell)
			left := 0
			if c == 0 {
				left = pad / 2 // counts are centred
			}
			fmt.Fprintf(m, "| %s%s%s ", strings.Repeat(" ", left), cell, strings.Repeat(" ", pad-left))
		}
		fmt.Fprintln(m, "|")
		if i > 0 {
			continue
		}
		for c, width := range widths {
			if c == 0 {
				fmt.Fprintf(m, "|:%s:", strings.Repeat("-", width))
			} else {
				fmt.Fprintf(m, "|%s", strings.Repeat("-", width+2))
			}
		}
		fmt.Fprintln(m, "|")
	}
}

// columnWidths returns how many terminal columns the cells take.
func columnWidths(rows [][]string) []int {
	widths := make([]int, len(rows[0]))
	for _, cells := range rows {
		for c, cell := range cells[:min(len(cells), len(widths))] {
			widths[c] = max(widths[c], runewidth.StringWidth(cell))
		}
	}
	return widths
}

// blocks writes prose; each line begins with indent.
func (m markdownWriter) blocks(blocks []prose.Block, indent string) {
	for _, b := range blocks {
		fmt.Fprintln(m, strings.TrimRight(indent, " "))
		m.block(b, indent)
	}
}

func (m markdownWriter) block(b prose.Block, indent string) {
	switch b.Kind {
	case "p":
		fmt.Fprintf(m, "%s%s\n", indent, mdSpans(b.Spans))
	case "h":
		fmt.Fprintf(m, "%s**%s**\n", indent, mdLine(prose.PlainText(b.Spans)))
	case "ol", "ul":
		for i, item := range b.Items {
			mark := "- "
			if b.Kind == "ol" {
				mark = fmt.Sprintf("%d. ", i+1)
			}
			inner := indent + strings.Repeat(" ", len(mark))
			for k, part := range item {
				if k == 0 && part.Kind == "p" {
					fmt.Fprintf(m, "%s%s%s\n", indent, mark, mdSpans(part.Spans))
					continue
				}
				m.block(part, inner)
			}
		}
	case "quote":
		for _, item := range b.Items {
			for i, part := range item {
				if i > 0 {
					fmt.Fprintf(m, "%s>\n", indent)
				}
				m.block(part, indent+"> ")
			}
		}
	case "code":
		for _, s := range b.Spans {
			for line := range strings.Lines(s.Text) {
				fmt.Fprintf(m, "%s    %s\n", indent, strings.TrimRight(line, "\n"))
			}
		}
	case "table":
		for i, row := range b.Rows {
			for _, cell := range row {
				fmt.Fprintf(m, "%s| %s ", indent, mdSpans(cell))
			}
			fmt.Fprintln(m, "|")
			if i == 0 {
				fmt.Fprintf(m, "%s%s|\n", indent, strings.Repeat("|---", len(row)))
			}
		}
	}
}

// mdSpans returns a run of text on one line.
func mdSpans(spans []prose.Span) string {
	var b strings.Builder
	for _, s := range spans {
		text := s.Text
		inner := strings.TrimSpace(text)
		if inner == "" || !s.Strong && !s.Emphasis && !s.Code {
			b.WriteString(mdText(text))
			continue
		}
		mark := "*"
		switch {
		case s.Code:
			mark = "" // a code span can't contain its own marks
		case s.Strong:
			mark = "**"
		}
		before, after, _ := strings.Cut(text, inner)
		b.WriteString(before + mark + mdText(inner) + mark + after)
	}
	return mdStart(strings.TrimSpace(b.String()))
}

var mdEscapes = strings.NewReplacer(`\`, `\\`, "`", "\\`", "*", `\*`, "_", `\_`, "[", `\[`, "]", `\]`, "<", `\<`, ">", `\>`, "|", `\|`, "&", `\&`, "#", `\#`, "~", `\~`)

// mdText escapes text so that nothing in it is markup.
func mdText(text string) string { return mdEscapes.Replace(harmless.Handout(text)) }

// mdName escapes a name, or what the program reads again: only what would be a tag, a link, an entity
// or a cell of its own, as the program takes a backslash for a letter.
func mdName(text string) string {
	text = harmless.Handout(text)
	var b strings.Builder
	for i, r := range text {
		after := text[i+utf8.RuneLen(r):]
		switch {
		case r == '<', r == '[', r == '|', r == '\\' && mdPunctuation.MatchString(after), r == '&' && mdEntity.MatchString(after):
			b.WriteByte('\\')
		}
		b.WriteRune(r)
	}
	return mdStart(b.String())
}

var (
	mdPunctuation = regexp.MustCompile(`^[[:punct:]]`)
	mdEntity      = regexp.MustCompile(`^#?[0-9A-Za-z]+;`)
)

// mdLine escapes text that begins a line.
func mdLine(text string) string { return mdStart(mdText(text)) }

var mdMark = regexp.MustCompile(`^(\d{0,9})([-+=.)#])`)

// mdStart keeps the start of a line from being a list or a rule.
func mdStart(line string) string { return mdMark.ReplaceAllString(line, `$1\$2`) }
