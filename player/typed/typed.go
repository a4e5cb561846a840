// Package typed makes a routine by typed commands, and answers in plain lines: for a screen reader, or a
// script.
//
// It draws nothing and has no keys. Run reads the commands; what can be danced is left to package draft.
package typed

import (
	"bufio"
	"cmp"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"dance.example/slowquick/player/draft"
	"dance.example/slowquick/player/harmless"
	"dance.example/slowquick/routine"
)

// session is a routine that is being made.
type session struct {
	out     *bufio.Writer
	files   draft.Files
	draft   draft.Draft   // figures are put in after its marked line
	offers  []draft.Offer // those that were listed last
	newer   string        // a file that another program has changed, which "save" writes over when it is named again
	writing *writing      // the figure that is being written; nil for none
	unkept  bool          // what was made last is only in memory
	asked   bool          // "quit" was said with that
	stopped bool
}

// longest is how long a command can be.
const longest = 4096

// Run carries out the commands that are read from in, a line each, until "quit" or the end, and writes what
// they lead to. A change is kept before it is answered. The error says why commands can't be read or
// answered.
func Run(in io.Reader, out io.Writer, d draft.Draft, files draft.Files) error {
	s := &session{out: bufio.NewWriter(out), files: files, draft: d}
	s.say("%s, %s. \"help\" lists the commands.", d.Title(), d.Score.Dance.Name)
	s.show("")
	lines := bufio.NewScanner(in)
	lines.Buffer(make([]byte, 0, longest), longest)
	for !s.stopped {
		if err := s.out.Flush(); err != nil {
			return fmt.Errorf("answer: %w", err)
		}
		if !lines.Scan() {
			break
		}
		s.carryOut(strings.TrimSpace(lines.Text()))
	}
	if err := lines.Err(); err != nil {
		return fmt.Errorf("read the commands: %w", err)
	}
	s.ends()
	if err := s.out.Flush(); err != nil {
		return fmt.Errorf("answer: %w", err)
	}
	return nil
}

// ends says where the routine is that isn't saved. If that is nowhere, it writes the sheet out.
func (s *session) ends() {
	switch {
	case s.draft.Saved():
	case s.unkept:
		s.say("It is neither saved nor kept. This is the sheet:")
		for line := range strings.Lines(string(s.draft.Text())) {
			s.say("%s", strings.TrimRight(line, "\r\n"))
		}
	default:
		s.say("It isn't saved; it is kept as a draft in the list of sheets.")
	}
}

// quit stops, but not at once if what was made is only in memory.
func (s *session) quit(string) {
	if s.stopped = s.draft.Saved() || !s.unkept || s.asked; !s.stopped {
		s.say("It is neither saved nor kept: save it somewhere else with \"save FOLDER/FILE\", or say \"quit\" again.")
	}
	s.asked = true
}

func (s *session) say(format string, args ...any) {
	text := fmt.Sprintf(format, args...)
	fmt.Fprintln(s.out, harmless.Line(text))
}

// command is what can be typed.
type command struct {
	name, args, what string
	do               func(s *session, args string)
}

// commands lists them, as "help" does.
func commands() []command {
	return []command{
		{"order", "", "reads the order, with what is wrong with it", (*session).show},
		{"next", "[WORDS]", "lists what can follow the line you are at", (*session).next},
		{"add", "FIGURE", "puts a figure in after that line; also \"add Fan × 2\", \"add Closed basic, steps 1–3\"", (*session).add},
		{"at", "LINE", "goes to a line; 0 is the start", (*session).at},
		{"change", "LINE FIGURE", "writes another figure there", (*session).change},
		{"remove", "LINE", "takes a line out", (*session).remove},
		{"move", "LINE LINE", "moves a line to another place", (*session).move},
		{"set", "LINE SETTING VALUE", "as in \"set 3 tempo 24 bars/min\", \"set 3 corner after\", \"set 3 ends open facing\", \"set 3 times 2\", \"set 3 steps 1–3\", \"set 3 remark look up\", and for the whole routine \"set 0 tempo 28\", \"set 0 lead-in 2 bars\", \"set 0 floor 12 x 8 m\"; without a value it is taken away", (*session).set},
		{"part", "LINE LINE [NAME]", "makes a part of the order of the lines from the one to the other, as in \"part 2 5 Lantern part\"; \"add Lantern part\" dances it again", (*session).part},
		{"apart", "LINE", "takes the part apart that a line names, or stands in", (*session).apart},
		{"links", "[FIGURE]", "lists what links the line you are at with the line before it, if that is what is wrong, or with the next; or what leads to a figure", (*session).links},
		{"suggest", "", "lists ways to go on", (*session).suggest},
		{"figure", "NAME", "writes a figure of your own, count by count, or goes on with one", (*session).figure},
		{"take", "NUMBER", "puts in what was listed under that number", (*session).take},
		{"title", "TEXT", "gives the routine a title", (*session).title},
		{"undo", "", "takes the last change back", (*session).undo},
		{"redo", "", "makes it again", (*session).redo},
		{"save", "[FILE]", "saves the routine as a sheet", (*session).save},
		{"help", "", "lists the commands", (*session).help},
		{"quit", "", "leaves; what isn't saved is kept", (*session).quit},
	}
}

// carryOut carries out a command, and keeps what it has changed.
func (s *session) carryOut(text string) {
	name, args, _ := strings.Cut(text, " ")
	if name == "" {
		return
	}
	before := s.draft.Text()
	known := s.writes(name, strings.TrimSpace(args))
	for _, c := range commands() {
		if known {
			break
		}
		if known = strings.EqualFold(c.name, name); known {
			c.do(s, strings.TrimSpace(args))
		}
	}
	if !known {
		s.say("There is no command %q; \"help\" lists them.", name)
	}
	if string(before) == string(s.draft.Text()) && !s.draft.Saved() {
		return
	}
	err := s.files.Keep(s.draft)
	switch {
	case err != nil && s.unkept:
		s.say("It is still only in memory.")
	case err != nil:
		s.say("What you have made is only in memory until you save it: %v.", err)
	}
	s.unkept, s.asked = err != nil, false
}

// writes carries out a command that changes the figure that is being written; ok is false if it is none.
func (s *session) writes(name, args string) (ok bool) {
	if s.writing == nil {
		return false
	}
	ok = s.writing.carryOut(name, args)
	if s.writing.left {
		s.writing, s.offers = nil, nil
		s.show("")
	}
	return ok
}

// figure begins a figure, or goes on with one.
func (s *session) figure(name string) {
	s.offers = nil
	s.writing = write(s, &s.draft, &s.files, name)
}

func (s *session) help(string) {
	if s.writing != nil {
		s.writing.help()
	}
	for _, c := range commands() {
		s.say("%s: %s.", strings.TrimSpace(c.name+" "+c.args), c.what)
	}
}

// show reads the order.
func (s *session) show(string) {
	d := &s.draft
	if d.Order.Len() == 0 {
		s.say("The order is empty. \"next\" lists how it can begin.")
		return
	}
	for i := range d.Order.Len() {
		if name, first := d.Order.Part(i); first && name != "" {
			s.say("%s:", name)
		}
		s.read(i)
	}
	_, elsewhere := d.Objections()
	s.tell(elsewhere)
	s.length()
}

// read reads a line of the order.
func (s *session) read(line int) {
	d := &s.draft
	at := ""
	if bar := d.Bar(line); bar > 0 {
		at = fmt.Sprintf(", bar %d", bar)
	}
	for _, setting := range []string{"tempo", "corner", "ends", "count"} {
		if value := d.Order.Setting(line, setting); value != "" {
			at += fmt.Sprintf(", %s: %s", setting, value)
		}
	}
	here := ""
	if line == s.draft.Line {
		here = " You are here."
	}
	s.say("%d: %s%s.%s", line+1, d.Order.Line(line), at, here)
	lines, _ := d.Objections()
	s.tell(lines[line])
}

// tell says what is wrong.
func (s *session) tell(found []routine.Finding) {
	for _, f := range found {
		text := f.Message
		if f.Hint != "" {
			text += ". " + capital(f.Hint)
		}
		s.say("   %s: %s.", f.Severity, text)
	}
}

// capital returns a text that begins with a capital letter.
func capital(text string) string {
	first, size := utf8.DecodeRuneInString(text)
	return string(unicode.ToUpper(first)) + text[size:]
}

// aloud returns a text as it is read: a point between two things says nothing.
func aloud(text string) string { return strings.ReplaceAll(text, " · ", ", ") }

// length says how long the routine is.
func (s *session) length() { s.say("%s.", aloud(s.draft.Length())) }

// next lists what can follow, narrowed by words.
func (s *session) next(words string) {
	s.offers = nil
	shown := 0
	for _, n := range s.draft.Next(s.draft.Line) {
		line := n.Line()
		if !contains(strings.Join(n.Names(), " "), words) || n.Why != "" && words == "" {
			continue
		}
		shown++
		switch {
		case n.Why != "":
			s.say("%s: not from here, %s.", line, n.Why)
			continue
		case n.Apart != "":
			s.say("%d: %s, but then the next line can't be danced: %s.", len(s.offers)+1, line, n.Apart)
		case n.Mixes != "":
			s.say("%d: %s, %s, but it mixes: %s.", len(s.offers)+1, line, draft.InBars(n.Length(), s.draft.Score.Dance), n.Mixes)
		default:
			s.say("%d: %s, %s.", len(s.offers)+1, line, draft.InBars(n.Length(), s.draft.Score.Dance))
		}
		s.offers = append(s.offers, draft.Offer{After: s.draft.Line, Lines: []routine.Line{line}})
	}
	if shown == 0 {
		s.say("Nothing by that name.")
	}
}

// contains reports whether a text has all words.
func contains(text, words string) bool {
	text = routine.Key(text)
	for _, w := range strings.Fields(words) {
		if !strings.Contains(text, routine.Key(w)) {
			return false
		}
	}
	return true
}

// becomes takes in the order's new text, goes to a line and reads it.
func (s *session) becomes(text []byte, line int) {
	d, err := s.draft.Change(text, line)
	if err != nil {
		s.say("That can't be done: %v.", err)
		return
	}
	s.now(d)
}

// now takes in another draft and reads its marked line.
func (s *session) now(d draft.Draft) {
	before := s.draft
	s.draft, s.offers = d, nil
	if d.Line >= 0 {
		s.read(d.Line)
	}
	s.trouble(before, d.Line)
	if d.Order.Len() == 0 {
		s.say("The order is empty.")
		return
	}
	s.length()
}

// trouble reads the lines with which something is wrong, or names them if it was wrong in the draft before. One line has
// been read.
func (s *session) trouble(before draft.Draft, read int) {
	was := map[string]bool{}
	for _, f := range before.Found {
		was[f.Message] = true
	}
	var still []string
	lines, elsewhere := s.draft.Objections()
	for i, found := range lines {
		switch news := slices.ContainsFunc(found, func(f routine.Finding) bool { return !was[f.Message] }); {
		case i == read || len(found) == 0:
		case news:
			s.read(i)
		default:
			still = append(still, strconv.Itoa(i+1))
		}
	}
	if last := len(still) - 1; last == 0 {
		s.say("Line %s is still wrong.", still[0])
	} else if last > 0 {
		s.say("Lines %s and %s are still wrong.", strings.Join(still[:last], ", "), still[last])
	}
	s.tell(slices.DeleteFunc(elsewhere, func(f routine.Finding) bool { return was[f.Message] }))
}

// number reads a line's number, from 1, and what follows it.
func (s *session) number(args string) (line int, rest string, ok bool) {
	word, rest, _ := strings.Cut(args, " ")
	n, err := strconv.Atoi(word)
	if err != nil || n < 1 || n > s.draft.Order.Len() {
		s.say("Which line? The order has %s.", routine.Plural(s.draft.Order.Len(), "line"))
		return 0, "", false
	}
	return n - 1, strings.TrimSpace(rest), true
}

func (s *session) add(args string) {
	if args == "" {
		s.say("Add which figure? \"next\" lists what can follow.")
		return
	}
	s.becomes(s.draft.Order.Insert(s.draft.Line+1, routine.Line{Name: s.draft.Spelt(args)}), s.draft.Line+1)
}

func (s *session) at(args string) {
	if args == "0" {
		s.draft, s.offers = s.draft.Marked(-1), nil
		s.say("At the start.")
		s.whole()
		return
	}
	if line, _, ok := s.number(args); ok {
		s.draft, s.offers = s.draft.Marked(line), nil
		s.read(line)
	}
}

func (s *session) change(args string) {
	line, rest, ok := s.number(args)
	switch {
	case ok && rest == "":
		s.say("Into which figure?")
	case ok:
		s.becomes(s.draft.Order.Write(line, routine.Line{Name: s.draft.Spelt(rest)}), line)
	}
}

func (s *session) remove(args string) {
	if line, _, ok := s.number(args); ok {
		s.becomes(s.draft.Without(line), line-1)
	}
}

func (s *session) move(args string) {
	if from, rest, ok := s.number(args); ok {
		if to, _, ok := s.number(rest); ok {
			s.becomes(s.draft.Order.Move(from, to), to)
		}
	}
}

// part makes a part of lines.
func (s *session) part(args string) {
	from, rest, ok := s.number(args)
	if !ok {
		return
	}
	to, name, ok := s.number(rest)
	if !ok {
		return
	}
	from, to = min(from, to), max(from, to)
	name = cmp.Or(name, s.draft.PartName())
	text, err := s.draft.Gather(from, to+1, name)
	if err != nil {
		s.say("No part: %v.", err)
		return
	}
	s.becomes(text, from)
}

// apart takes a part apart.
func (s *session) apart(args string) {
	line, _, ok := s.number(args)
	if !ok {
		return
	}
	text, mark, err := s.draft.Apart(line)
	if err != nil {
		s.say("It stays as it is: %v.", err)
		return
	}
	s.becomes(text, mark)
}

func (s *session) set(args string) {
	number, rest, _ := strings.Cut(args, " ")
	line, whole := -1, number == "0"
	if !whole {
		var ok bool
		if line, rest, ok = s.number(args); !ok {
			return
		}
	}
	setting, value := cutSetting(rest)
	switch {
	case whole && setting == "":
		s.say("Set what? tempo, lead-in and floor can be set for the whole routine.")
	case whole:
		s.setAll(setting, value)
	case !slices.Contains(ofALine, setting):
		s.say("Set what? %s and %s can be set for a line.", strings.Join(ofALine[:len(ofALine)-1], ", "), ofALine[len(ofALine)-1])
	default:
		s.setLine(line, setting, value)
	}
}

// ofALine is what can be set for a line.
var ofALine = []string{"tempo", "corner", "ends", "count", "times", "steps", "remark"}

// cutSetting returns the name of a setting, which may have two words, and its value.
func cutSetting(text string) (setting, value string) {
	words := strings.Fields(text)
	for n := min(2, len(words)); n > 0; n-- {
		name := strings.TrimSuffix(strings.ToLower(strings.Join(words[:n], " ")), ":")
		if setting = routine.SettingNamed(name); setting != name || n == 1 {
			return setting, strings.Join(words[n:], " ")
		}
	}
	return "", ""
}

// setLine sets something for a line.
func (s *session) setLine(line int, setting, value string) {
	order := s.draft.Order
	says := order.Line(line)
	switch setting {
	case "times":
		n, err := strconv.Atoi(cmp.Or(value, "1"))
		if err != nil || n < 1 || n > routine.MostTimes {
			s.say("How many times? From 1 to %d.", routine.MostTimes)
			return
		}
		says.Times = n
	case "steps":
		if says.Part = value; value != "" && value[0] >= '0' && value[0] <= '9' {
			says.Part = "steps " + value
		}
	case "remark":
		says.Remark = value
	default:
		s.becomes(order.Set(line, setting, value), line)
		return
	}
	s.becomes(order.Write(line, says), line)
}

// setAll sets something for the whole routine.
func (s *session) setAll(setting, value string) {
	text, err := s.draft.Set(setting, value)
	if err != nil {
		s.say("%s.", err)
		return
	}
	d, err := s.draft.Change(text, s.draft.Line)
	if err != nil {
		s.say("That can't be done: %v.", err)
		return
	}
	before := s.draft
	s.draft, s.offers = d, nil
	s.say("The %s is %s.", setting, d.Holds(setting))
	s.trouble(before, -1)
}

// whole says what holds for the whole routine.
func (s *session) whole() {
	d := &s.draft
	said := fmt.Sprintf("The tempo is %s; the lead-in is %s", d.Holds("tempo"), d.Holds("lead-in"))
	if d.Score.Dance.Travels {
		said += "; the floor is " + d.Holds("floor")
	}
	s.say("%s.", said)
}

// list lists offers.
func (s *session) list(offers []draft.Offer, none string) {
	s.offers = offers
	for i, o := range offers {
		names := make([]string, len(o.Lines))
		for j, l := range o.Lines {
			names[j] = l.String()
		}
		s.say("%d: %s; %s.", i+1, strings.Join(names, ", then "), aloud(o.Why))
	}
	if len(offers) == 0 {
		s.say("%s.", none)
	}
}

func (s *session) links(args string) {
	if args == "" {
		offers, says := s.draft.Links(s.draft.Line)
		if len(offers) > 0 {
			s.say("What can go %s:", says)
		}
		s.list(offers, "No links: "+says)
		return
	}
	list := slices.DeleteFunc(s.draft.Next(s.draft.Line), func(n draft.Next) bool {
		return n.Part == "" && n.To-n.From < len(n.Figure.Rows) || !contains(n.Name(), args)
	})
	slices.SortStableFunc(list, func(a, b draft.Next) int { return cmp.Compare(len(a.Name()), len(b.Name())) })
	if len(list) == 0 {
		s.say("No figure is called %q.", args)
		return
	}
	n := &list[0] // of those with these words, the shortest name is meant
	if n.Why == "" {
		s.say("%s can follow at once.", n.Name())
		return
	}
	s.list(s.draft.LinksTo(s.draft.Line, n), fmt.Sprintf("Nothing leads to %s from here: %s", n.Name(), n.Why))
}

func (s *session) suggest(string) {
	s.list(s.draft.Suggest(s.draft.Line), "Nothing can be suggested here")
}

func (s *session) take(args string) {
	n, err := strconv.Atoi(args)
	if err != nil || n < 1 || n > len(s.offers) {
		s.say("Take which? \"next\", \"links\" and \"suggest\" list some.")
		return
	}
	offer := s.offers[n-1]
	text, err := s.draft.Put(offer)
	if err != nil {
		s.say("That can't be done: %v.", err)
		return
	}
	s.becomes(text, offer.After+len(offer.Lines))
}

func (s *session) title(args string) {
	if args == "" {
		s.say("It is called %s.", s.draft.Title())
		return
	}
	d, err := s.draft.Change(s.draft.Titled(args), s.draft.Line)
	if err != nil {
		s.say("That can't be done: %v.", err)
		return
	}
	s.draft = d
	s.say("It is called %s.", d.Title())
}

func (s *session) undo(string) {
	if d, ok := s.draft.Undo(); ok {
		s.now(d)
		return
	}
	s.say("There is nothing to undo.")
}

func (s *session) redo(string) {
	if d, ok := s.draft.Redo(); ok {
		s.now(d)
		return
	}
	s.say("There is nothing to redo.")
}

func (s *session) save(args string) {
	path := args
	if path == "" {
		path = cmp.Or(s.draft.Sheet.Path, s.files.FileFor(s.draft.Title()))
	}
	if filepath.Ext(path) == "" {
		path += ".md"
	}
	saved, err := s.files.Save(s.draft, path, path == s.newer)
	switch {
	case errors.Is(err, draft.ErrNewer):
		s.newer = path
		s.say("%s holds something newer. Save it under another name, or say \"save %s\" again to write over it.", path, path)
		return
	case err != nil && s.unkept:
		s.say("Not saved, and still only in memory: %v.", err)
		return
	case err != nil:
		s.say("Not saved, but kept as a draft: %v.", err)
		return
	}
	s.draft, s.newer, s.unkept = s.draft.SavedAs(saved), "", false
	s.say("Saved as %s.", path)
}
