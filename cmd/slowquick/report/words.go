package report

import (
	"fmt"
	"strings"

	"dance.example/slowquick/player/harmless"
	"dance.example/slowquick/player/screen/term"
	"dance.example/slowquick/routine/glossary"
	"github.com/mattn/go-runewidth"
)

// longestWord is how wide a word may be that has its meaning beside it.
const longestWord = 22

// Words prints a part of the vocabulary, with the words of a language or, without one, what else is read
// in English: all of it, or what fits on a line.
func Words(p Page, part glossary.Part, language string, all bool) {
	fmt.Fprintln(p, strings.ToUpper(part.Name))
	for _, g := range part.Groups {
		fmt.Fprintf(p, "\n%s\n", g.Name)
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
			printBeside(p, harmless.Masked(w.Word), meant(w.Meaning, also, min(p.Columns, 80)-column, all), column)
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
func printBeside(p Page, word string, lines []string, column int) {
	word = "  " + word
	if room := column - runewidth.StringWidth(word); room < 2 || len(lines) == 0 {
		fmt.Fprintln(p, word)
	} else {
		fmt.Fprintln(p, word+strings.Repeat(" ", room)+lines[0])
		lines = lines[1:]
	}
	for _, line := range lines {
		fmt.Fprintln(p, strings.Repeat(" ", column)+line)
	}
}
