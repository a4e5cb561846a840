// Package flags has the flags that several commands take, and what they ask for.
package flags

import (
	"errors"
	"slices"
	"strings"

	"dance.example/slowquick/player"
	"dance.example/slowquick/routine"
	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// OrList lists words: "a", "a or b", "a, b or c".
func OrList(words []string) string {
	if last := len(words) - 1; last > 0 {
		return strings.Join(words[:last], ", ") + " or " + words[last]
	}
	return strings.Join(words, "")
}

// oneOf is a flag whose value is one of some words, which T numbers. An empty word is not offered.
type oneOf[T ~uint8] struct {
	value *T
	words []string
}

// String returns the word for the value.
func (o oneOf[T]) String() string {
	if o.value == nil {
		return "" // a zero value, which pflag makes to compare defaults
	}
	return o.words[*o.value]
}

// Set takes a word.
func (o oneOf[T]) Set(text string) error {
	i := slices.IndexFunc(o.words, func(word string) bool { return routine.Key(word) == routine.Key(text) })
	if i < 0 {
		return errors.New("use " + OrList(o.offered()))
	}
	*o.value = T(i)
	return nil
}

// Type names the kind of value in usage texts that don't.
func (oneOf[T]) Type() string { return "WORD" }

func (o oneOf[T]) offered() []string {
	return slices.DeleteFunc(slices.Clone(o.words), func(word string) bool { return word == "" })
}

// Word adds a flag whose value is one of some words, and completes them.
func Word[T ~uint8](cmd *cobra.Command, value *T, name, usage string, words []string) {
	o := oneOf[T]{value, words}
	cmd.Flags().Var(o, name, usage)
	_ = cmd.RegisterFlagCompletionFunc(name, cobra.FixedCompletions(o.offered(), cobra.ShellCompDirectiveNoFileComp)) // fails only for a flag that does not exist
}

// Partner adds --partner, and its former name, --side, which no help shows.
func Partner(cmd *cobra.Command, dancers *routine.Dancers) {
	Word(cmd, dancers, "partner", "whose steps to show, the `PARTNER`: both, leader or follower", Partners())
	Formerly(cmd, "side", "partner")
}

// Formerly adds the former name of a flag, which no help shows.
func Formerly(cmd *cobra.Command, former, name string) {
	now := cmd.Flags().Lookup(name)
	cmd.Flags().AddFlag(&pflag.Flag{
		Name: former, Value: now.Value, DefValue: now.DefValue, NoOptDefVal: now.NoOptDefVal, Hidden: true, Annotations: map[string][]string{formerly: {name}},
	})
}

// formerly is the annotation of a former name, with the present one.
const formerly = "formerly"

// Given reports whether a flag was given, by its name or by a former one.
func Given(cmd *cobra.Command, name string) bool {
	given := false
	cmd.Flags().Visit(func(f *pflag.Flag) {
		given = given || f.Name == name || slices.Contains(f.Annotations[formerly], name)
	})
	return given
}

// Partners are the words for whose steps are shown.
func Partners() []string {
	return []string{routine.Both: "both", routine.LeaderAlone: "leader", routine.FollowerAlone: "follower"}
}

// Count adds --count and --count-language.
func Count(cmd *cobra.Command, count *player.Counting) {
	Word(cmd, &count.Style, "count", "how to say the `COUNT`: count, slow/quick or words", Counts())
	Word(cmd, &count.Language, "count-language", "say the counts in this `LANGUAGE`: english, german, french, spanish or italian; if not given, the sheet's", CountLanguages())
}

// Counts are the words for how counts are said; the first, of the sheet's own style, is empty.
func Counts() (words []string) {
	for s := routine.StyleUnset; s <= routine.InWords; s++ {
		words = append(words, s.String())
	}
	return words
}

// CountLanguages are the words for the languages of counts; the first, of the sheet's own, is empty.
func CountLanguages() (words []string) {
	for l := routine.LanguageUnset; l <= routine.Italian; l++ {
		words = append(words, strings.ToLower(l.String()))
	}
	return words
}
