package main

import (
	"embed"

	"github.com/spf13/cobra"
)

// schemas are the JSON Schemas (draft 2020-12) of what commands print with --json, by the commands' names.
//
//go:embed schemas
var schemas embed.FS

// printsJSON adds --json to a command, and --schema, which describes it and takes nothing else.
func (a *app) printsJSON(cmd *cobra.Command, asJSON *bool) {
	text, err := schemas.ReadFile("schemas/" + cmd.Name() + ".json")
	if err != nil {
		panic(err) // each command has one: see TestEachJSONHasASchema
	}
	a.describes(cmd, asJSON, text)
}

// describes does the same with a schema from elsewhere.
func (a *app) describes(cmd *cobra.Command, asJSON *bool, text []byte) {
	schema := false
	takes, run := cmd.Args, cmd.RunE
	cmd.Args = func(cmd *cobra.Command, args []string) error {
		if schema || takes == nil {
			return nil
		}
		return takes(cmd, args)
	}
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		if schema {
			return a.PrintSchema(text, args)
		}
		return run(cmd, args)
	}
	cmd.Flags().BoolVar(asJSON, "json", false, "print JSON")
	cmd.Flags().BoolVar(&schema, "schema", false, "print the JSON Schema of --json")
	cmd.MarkFlagsMutuallyExclusive("json", "schema")
}
