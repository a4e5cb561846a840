package main

import (
	"encoding/json"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/adrg/xdg"
	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/spf13/cobra"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/cmd/slowquick/report"
	"dance.example/slowquick/library"
	"dance.example/slowquick/routine"
)

// schemaOf compiles what a command prints with --schema.
func schemaOf(t *testing.T, command string) *jsonschema.Schema {
	t.Helper()
	text, _ := told(t, exitOK, command, "--schema")
	doc, err := jsonschema.UnmarshalJSON(strings.NewReader(text))
	require.NoError(t, err)
	assert.Equal(t, "https://json-schema.org/draft/2020-12/schema", doc.(map[string]any)["$schema"])
	c := jsonschema.NewCompiler()
	require.NoError(t, c.AddResource("urn:slowquick:"+command, doc))
	s, err := c.Compile("urn:slowquick:" + command)
	require.NoError(t, err)
	return s
}

// assertDescribed asserts that a text is one document that is valid, that it isn't without any of its required keys,
// nor with others, and returns the names of all its keys.
func assertDescribed(t *testing.T, s *jsonschema.Schema, text string, optional ...string) (keys []string) {
	t.Helper()
	doc, err := jsonschema.UnmarshalJSON(strings.NewReader(text))
	require.NoError(t, err, "one document")
	require.NoError(t, s.Validate(doc))
	var walk func(v any)
	walk = func(v any) {
		switch v := v.(type) {
		case []any:
			for _, item := range v {
				walk(item)
			}
		case map[string]any:
			v["more"] = 1
			assert.Error(t, s.Validate(doc), "%v with more", v)
			delete(v, "more")
			for key, value := range v {
				if !slices.Contains(keys, key) {
					keys = append(keys, key)
					delete(v, key)
					err := s.Validate(doc)
					assert.Equal(t, slices.Contains(optional, key), err == nil, "without %s", key)
					v[key] = value
				}
				walk(value)
			}
		}
	}
	walk(doc)
	return keys
}

// TestTheSchemaTellsTheFindings of several sheets, with and without findings, in one document.
func TestTheSchemaTellsTheFindings(t *testing.T) {
	dir := t.TempDir()
	names := []string{"check", "--json"}
	for name, code := range map[string]routine.Code{"a.md": "figure-again", "b.md": "end-contradicted", "c.md": "unknown-fact"} {
		e, ok := routine.Explain(code)
		require.True(t, ok)
		for before, text := range map[string]string{"bad-": e.Bad, "good-": e.Good} {
			path := filepath.Join(dir, before+name)
			require.NoError(t, os.WriteFile(path, []byte(text), 0o600))
			names = append(names, path)
		}
	}
	s := schemaOf(t, "check")
	text, _ := told(t, exitFindings, names...)
	keys := assertDescribed(t, s, text, "hint", "related")
	slices.Sort(keys)
	assert.Equal(t, []string{"code", "column", "end", "file", "findings", "hint", "line", "message", "offset", "related", "severity", "span", "start"}, keys)
	var reports []any
	require.NoError(t, json.Unmarshal([]byte(text), &reports))
	assert.Len(t, reports, 6)

	text, _ = told(t, exitFailed, "check", "--json", filepath.Join(dir, "missing.md"))
	assert.Equal(t, "[]\n", text)
	assert.NoError(t, s.Validate([]any{}))
	_, errs := told(t, exitUsage, "check", "--schema", "lantern-night-waltz")
	assert.Contains(t, errs, "leave all else out with --schema")
}

// TestTheSchemaTellsTheExplanations: of one code, of several and of all.
func TestTheSchemaTellsTheExplanations(t *testing.T) {
	s := schemaOf(t, "explain")
	for _, codes := range [][]string{{"join-foot"}, {"join-foot", "[unknown-word]"}, nil} {
		text, _ := told(t, exitOK, append([]string{"explain", "--json"}, codes...)...)
		assertDescribed(t, s, text, "words")
		var list []struct{ Code string }
		require.NoError(t, json.Unmarshal([]byte(text), &list))
		for i, code := range codes {
			assert.Equal(t, strings.Trim(code, "[]"), list[i].Code)
		}
		if codes == nil {
			assert.Len(t, list, len(routine.Codes()))
		} else {
			assert.Len(t, list, len(codes))
		}
	}
	out, _ := told(t, exitUsage, "explain", "--json", "join-foot", "join-food")
	assert.Empty(t, out, "all or nothing")
}

// TestEachJSONHasASchema: every command that prints JSON describes it, by its own name.
func TestEachJSONHasASchema(t *testing.T) {
	var described []string
	var commands []*cobra.Command
	start(strings.NewReader(""), io.Discard, io.Discard, func(a *app) int { commands = a.root().Commands(); return exitOK })
	for _, cmd := range commands {
		if cmd.Flags().Lookup("json") == nil {
			continue
		}
		described = append(described, cmd.Name())
		schemaOf(t, cmd.Name())
		text, _ := told(t, exitOK, cmd.Name(), "--schema")
		assert.Contains(t, text, `"description": "What slowquick `+cmd.Name()+" ")
	}
	assert.Equal(t, []string{"check", "class", "diary", "explain", "figure", "figures", "link", "listen", "practise", "settings", "words"}, described)
}

// TestTheSchemasTellWhatIsPrinted of the library, of a class, of songs and of practice.
func TestTheSchemasTellWhatIsPrinted(t *testing.T) {
	dir := danceHall(t)
	t.Chdir(dir)
	t.Setenv("XDG_DATA_HOME", filepath.Join(dir, "data"))
	xdg.Reload()
	keepAnEvening(t, filepath.Join(dir, "state"), time.Now())
	chart := []string{"alsoCalled", "parts", "begun", "family", "ways", "file", "overrides"}
	for _, c := range []struct {
		args     []string
		has      []string // some of its keys
		optional []string
	}{
		{[]string{"figures", "--dance", "waltz"}, []string{"dance", "alsoCalled", "counts", "rows", "follower"}, chart},
		{[]string{"figures", "--dance", "waltz", "--after", "whisk"}, []string{"danceable", "code", "way"}, append(chart, "join", "way", "other", "turn", "why")},
		{[]string{"figures", "nothing", "of", "that", "name"}, nil, nil},
		{[]string{"figure", "natural", "turn"}, []string{"source", "beat"}, chart},
		{[]string{"link", "--dance", "rumba", "fan", "natural top"}, []string{"first", "second", "links"}, nil},
		{[]string{"words"}, []string{"groups", "word", "meaning", "foreign"}, []string{"meaning", "also", "foreign", "French", "German", "Italian", "Spanish"}},
		{[]string{"class", "Lantern", "--had", "lantern-night-waltz"}, []string{"lessons", "daysOverdue"}, nil},
		{[]string{"listen", filepath.Join("hall", "tune.wav")}, []string{"suits", "beats", "number"}, []string{"damage", "beatsGiven", "beats"}},
		{[]string{"listen", "hall"}, []string{"song", "sureOfBars"}, []string{"damage", "beatsGiven", "beats"}},
		{[]string{"practise", "lantern-night-waltz"}, []string{"stretches", "percent", "seconds"}, []string{"why", "tomorrow", "byHeart", "skipped"}},
		{[]string{"practise"}, []string{"figuresDue", "why"}, nil},
		{[]string{"settings"}, []string{"usual", "from"}, nil},
	} {
		t.Run(strings.Join(c.args, " "), func(t *testing.T) {
			text, _ := told(t, exitOK, append(c.args, "--json")...)
			assert.Subset(t, assertDescribed(t, schemaOf(t, c.args[0]), text, c.optional...), c.has)
		})
	}
}

// TestUnknownWordsAreExplainedByTheKnown: an explanation lists what may stand in the place of something unknown.
func TestUnknownWordsAreExplainedByTheKnown(t *testing.T) {
	for code, words := range map[routine.Code][]string{
		"unknown-word":      {"forward", "LF", "swivel", "promenade", "both hands", "DW"},
		"unknown-fact":      {"starts", "also called"},
		"unknown-setting":   {"tempo", "music", "corner", "metre"},
		"unknown-column":    {"Count", "Leader", "Follower", "Sway"},
		"unknown-dance":     {"cha-cha", "west coast swing"},
		"unknown-direction": {"LOD", "against LOD"},
		"count-unreadable":  {"4-1", "&", "Q"},
		"turn-unreadable":   {"3/8", "R"},
	} {
		page, _ := told(t, exitOK, "explain", string(code))
		_, known, found := strings.Cut(page, "What can be written there")
		require.True(t, found, code)
		for _, word := range words {
			assert.Regexp(t, " "+word+"(,| )", strings.Join(strings.Fields(known), " ")+" ", code)
		}
		for line := range strings.Lines(known) {
			assert.LessOrEqual(t, len([]rune(line)), 81, line)
		}
	}
	page, _ := told(t, exitOK, "explain", "unknown-column")
	assert.NotContains(t, page, "swivel", "only the words of the place")
	page, _ = told(t, exitOK, "explain", "foot-not-free")
	assert.NotContains(t, page, "What can be written there")
	for _, code := range routine.Codes() {
		if strings.HasPrefix(string(code), "unknown-") && code != "unknown-figure" { // of which slowquick figures has too many
			e, _ := report.Explain(library.Open(), code)
			assert.NotEmpty(t, e.Words, code)
		}
	}
}
