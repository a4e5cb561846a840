package main

import (
	"fmt"
	"slices"
	"strings"

	"github.com/mattn/go-runewidth"
	"github.com/spf13/cobra"

	"dance.example/slowquick/player/harmless"
	"dance.example/slowquick/player/screen/term"
	"dance.example/slowquick/routine"
	"dance.example/slowquick/routine/glossary"
)

func (a *app) words() *cobra.Command {
	asJSON, all, language := false, false, ""
	cmd := &cobra.Command{
		Use:   "words [PART…]",
		Short: "List the words that sheets are written with",
		Long: `Words lists what you can write in a sheet and what it means, with the other words that
are read as the same. PART is ` + orList(partNames()) + `;
without it all are listed. Where more words are read than fit on a line, … stands for
the rest, and --all lists them. slowquick help sheet shows how a sheet is written.`,
		Example:   "  slowquick words steps\n  slowquick words positions --language german",
		ValidArgs: partNames(),
		RunE: func(_ *cobra.Command, args []string) error {
			parts, err := a.parts(args)
			if err != nil {
				return err
			}
			if asJSON {
				return a.printJSON(parts)
			}
			if language != "" {
				i := slices.IndexFunc(routine.Languages(), func(l string) bool { return routine.Key(l) == routine.Key(language) })
				if i < 0 {
					return &failure{exitUsage, fmt.Errorf("--language: the words of %q are not known", language), "known: " + strings.Join(routine.Languages(), ", ")}
				}
				language = routine.Languages()[i]
			}
			for i, p := range parts {
				if i > 0 {
					fmt.Fprintln(a.out)
				}
				a.printPart(p, language, all)
			}
			return nil
		},
	}
	cmd.Flags().StringVar(&language, "language", "", "list the words of this `LANGUAGE` beside the English: "+strings.ToLower(orList(routine.Languages())))
	cmd.Flags().BoolVar(&all, "all", false, "list every word that is read")
	cmd.Flags().BoolVar(&asJSON, "json", false, "print JSON, with the words of all languages")
	_ = cmd.RegisterFlagCompletionFunc("language", func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
		return routine.Languages(), cobra.ShellCompDirectiveNoFileComp
	}) // fails only for a flag that does not exist
	return cmd
}

// partNames returns the names of the parts of the vocabulary.
func partNames() (names []string) {
	for _, p := range routine.Vocabulary() {
		names = append(names, p.Name)
	}
	return names
}

// parts returns the parts of the vocabulary with these names, or all, with what the library knows of dances.
func (a *app) parts(names []string) (parts []glossary.Part, err error) {
	if len(names) == 0 {
		names = partNames()
	}
	for _, name := range names {
		p, ok := glossary.PartNamed(strings.ToLower(name))
		if !ok {
			return nil, &failure{exitUsage, fmt.Errorf("no part of the vocabulary is called %q", name), perhaps(name, partNames(), "parts: "+strings.Join(partNames(), ", "))}
		}
		if p.Name == "dances" {
			p.Groups = a.dances(p.Groups)
		}
		parts = append(parts, p)
	}
	return parts, nil
}

// dances returns the dances of the library with their metres and tempi, and apart those that are known only
// by name.
func (a *app) dances(groups []glossary.Group) []glossary.Group {
	known := glossary.Group{Name: "Dances in the library"}
	named := glossary.Group{Name: `Other dances, with a line such as "metre: 4/4" below the dance`}
	words := map[string]glossary.Word{}
	for _, g := range groups {
		for _, w := range g.Words {
			words[routine.Key(w.Word)] = w
		}
	}
	for _, name := range a.library.Dances() {
		c, ok := a.library.Chapter(name)
		if !ok {
			continue
		}
		w := words[routine.Key(name)]
		delete(words, routine.Key(name))
		w.Word, w.Meaning = name, c.Dance.Metre.String()+", "+c.Dance.RangeText(c.Dance.Usual)
		for _, alias := range c.Dance.Aliases {
			if !slices.ContainsFunc(w.Also, func(also string) bool { return routine.Key(also) == routine.Key(alias) }) {
				w.Also = append(slices.Clip(w.Also), alias)
			}
		}
		known.Words = append(known.Words, w)
	}
	for _, g := range groups {
		for _, w := range g.Words {
			if _, left := words[routine.Key(w.Word)]; left {
				named.Words = append(named.Words, w)
			}
		}
	}
	if len(named.Words) == 0 {
		return []glossary.Group{known}
	}
	return []glossary.Group{known, named}
}

// longestWord is how wide a word may be that has its meaning beside it.
const longestWord = 22

// printPart prints a part of the vocabulary, with the words of a language or, without one, what else is read
// in English: all of it, or what fits on a line.
func (a *app) printPart(p glossary.Part, language string, all bool) {
	fmt.Fprintln(a.out, strings.ToUpper(p.Name))
	for _, g := range p.Groups {
		fmt.Fprintf(a.out, "\n%s\n", g.Name)
		column := 0
		for _, w := range g.Words {
			if width := runewidth.StringWidth(w.Word); width <= longestWord {
				column = max(column, width)
			}
		}
		column += len("    ")
		for _, w := range g.Words {
			also := "also " + strings.Join(w.Also, ", ")
			if language != "" {
				also = strings.Join(w.Foreign[language], ", ")
			} else if len(w.Also) == 0 {
				also = ""
			}
			a.printBeside(harmless.Masked(w.Word), meant(w.Meaning, also, min(a.columns(), 80)-column, all), column)
		}
	}
}

// meant returns lines with the meaning of a word and below it, or in brackets if there is room, what else is read
// as the word: all of it, or as much as fits on a line.
func meant(meaning, also string, width int, all bool) []string {
	if also == "" {
		return term.Words(meaning, width)
	}
	if line := meaning + " (" + also + ")"; meaning != "" && runewidth.StringWidth(line) <= width {
		return []string{line}
	}
	for !all && runewidth.StringWidth(also) > width {
		also = strings.TrimSuffix(also, ", …")
		at := strings.LastIndex(also, ", ")
		if at < 0 {
			break
		}
		also = also[:at] + ", …"
	}
	return append(term.Words(meaning, width), term.Words(also, width)...)
}

// printBeside prints a word, indented, with lines beside it that begin in a column.
func (a *app) printBeside(word string, lines []string, column int) {
	word = "  " + word
	if room := column - runewidth.StringWidth(word); room < 2 || len(lines) == 0 {
		fmt.Fprintln(a.out, word)
	} else {
		fmt.Fprintln(a.out, word+strings.Repeat(" ", room)+lines[0])
		lines = lines[1:]
	}
	for _, line := range lines {
		fmt.Fprintln(a.out, strings.Repeat(" ", column)+line)
	}
}
