package main

import (
	"strings"
	"testing"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
	"github.com/stretchr/testify/assert"
)

// TestAFlagMeansTheSameEverywhere: where several commands have a flag of one name, it takes the same kind of value.
func TestAFlagMeansTheSameEverywhere(t *testing.T) {
	var out, errs strings.Builder
	a := printsOn(&out, &errs)
	kinds := map[string]map[string][]string{} // the commands, by what they call the value, by flag
	a.eachCommand(a.root(), func(cmd *cobra.Command) {
		cmd.LocalFlags().VisitAll(func(f *pflag.Flag) {
			if f.Hidden { // a former name
				return
			}
			value, _ := pflag.UnquoteUsage(f)
			if value == "FOLDER" && f.Name == "output" { // of what is more than a file
				value = "FILE"
			}
			if f.NoOptDefVal != "" {
				value = "" // yes or no
			}
			if kinds[f.Name] == nil {
				kinds[f.Name] = map[string][]string{}
			}
			kinds[f.Name][value] = append(kinds[f.Name][value], cmd.CommandPath())
		})
	})
	for name, by := range kinds {
		assert.Len(t, by, 1, "--%s: %v", name, by)
	}
	assert.Greater(t, len(kinds), 60)
}
