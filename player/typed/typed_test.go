package typed_test

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/library"
	"dance.example/slowquick/player/draft"
	"dance.example/slowquick/player/sheets"
	"dance.example/slowquick/player/typed"
	"dance.example/slowquick/routine"
)

// book is the library, which is read once.
var book = library.Open()

// session types commands, and returns what was answered and the texts that were kept.
func session(t *testing.T, path string, full error, commands ...string) (answers string, kept []string) {
	d, ok := book.Dance("rumba")
	require.True(t, ok)
	made, err := draft.New(sheets.Shelf{Library: book}, d, "Quay", routine.Room{})
	require.NoError(t, err)
	files := draft.Files{
		Keep:    func(d draft.Draft) error { kept = append(kept, string(d.Text())); return full },
		Save:    draft.Draft.Save,
		FileFor: func(string) string { return path },
		Own: func(_ string, _ []byte, over bool) (string, error) {
			if !over {
				return "lantern.md", draft.ErrNewer
			}
			return "lantern.md", nil
		},
	}
	var out strings.Builder
	require.NoError(t, typed.Run(strings.NewReader(strings.Join(commands, "\n")), &out, made, files))
	return out.String(), kept
}

func TestARoutineIsTyped(t *testing.T) {
	path := filepath.Join(t.TempDir(), "quay.md")
	answers, kept := session(t, path, nil,
		"next closed basic", "take 1", "change 1 Closed basic × 2", "links fan", "take 1", "add hockey stick", "set 2 tempo 24 bars/min", "undo", "undo", "redo", "save", "quit", "add Fan")
	text, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, "---\ndance: rumba\n---\n\n# Quay\n\n## Order\n\n1. Closed basic × 2\n2. Forward half of the closed basic\n3. Fan\n4. Hockey stick\n", string(text))
	for _, says := range []string{
		"1: Closed basic, 2 bars.\n", "1: Closed basic × 2, bar 1. You are here.\n4 bars, 4 bars to the phrase.\n",
		"1: Forward half of the closed basic, then Fan; 1 bar.\n", "4: Hockey stick, bar 7. You are here.\n8 bars, 1 phrase.\n", "tempo: 24 bars/min", "Saved as " + path,
	} {
		assert.Contains(t, answers, says)
	}
	assert.NotContains(t, answers, "isn't saved")
	assert.Equal(t, string(text), kept[len(kept)-1])
}

// TestTheWholeRoutineIsSet by line 0; a unit may be missing.
func TestTheWholeRoutineIsSet(t *testing.T) {
	answers, kept := session(t, "", nil, "set 0 tempo 24", "set 0 floor 9x6", "set 0 floor small", "set 0 corner after", "set 0 tempo", "set 0 lead-in 8 counts", "set 0 lead-in 9", "at 0")
	assert.Equal(t, "---\ndance: rumba\nlead-in: 2 bars\nfloor: 9 x 6 m\n---\n\n# Quay\n", kept[len(kept)-1])
	for _, says := range []string{
		"The tempo is 24 bars/min.\n", "The floor is 9 x 6 m.\n", "\"small\" is not the size of a floor; write it as 12 x 8 m.\n",
		"\"corner\" is not set for the whole routine; tempo, lead-in and floor are.\n",
		"The tempo is 26 bars/min, as usual.\n", "The lead-in is 2 bars.\n", "\"9\" is more than 4 bars; write it in bars, as in 2 bars, or none.\n",
		"At the start.\nThe tempo is 26 bars/min, as usual; the lead-in is 2 bars.\n",
	} {
		assert.Contains(t, answers, says)
	}
}

// TestNamesAreSpeltAsInTheLibrary, whatever else is typed; a name that isn't known stays.
func TestNamesAreSpeltAsInTheLibrary(t *testing.T) {
	_, kept := session(t, "quay.md", nil, "add closed BASIC x 2 - look up", "add fan", "change 2 new york to the left side, steps 1-3", "add cucaracha to the left", "add harbour step", "add spot turn × 2", "add basic movement")
	_, order, _ := strings.Cut(kept[len(kept)-1], "## Order\n\n")
	assert.Equal(t, "1. Closed basic x 2 - look up\n2. New York to the left side, steps 1-3\n3. Cucaracha to the left\n4. harbour step\n5. Spot turn × 2\n6. Basic movement\n", order)
}

// TestALineIsSet with all that its keys on the screen change, and with nothing else.
func TestALineIsSet(t *testing.T) {
	answers, kept := session(t, "quay.md", nil, "add closed basic", "set 1 remark look up", "set 1 times 3", "set 1 steps 1-3", "set 1 tempo: 24 bars/min", "set 1 colour red", "set 1", "set 1 times 0", "set 1 times 100")
	_, order, _ := strings.Cut(kept[len(kept)-1], "## Order\n\n")
	assert.Equal(t, "1. Closed basic, steps 1-3 × 3 — look up\n   - tempo: 24 bars/min\n", order)
	assert.Equal(t, 2, strings.Count(answers, "Set what? tempo, corner, ends, count, times, steps and remark can be set for a line.\n"))
	assert.Equal(t, 2, strings.Count(answers, "How many times? From 1 to 99.\n"))
	_, kept = session(t, "quay.md", nil, "add closed basic", "set 1 remark look up", "set 1 remark", "set 1 steps 1-3", "set 1 steps", "set 1 times 2", "set 1 times")
	assert.Equal(t, kept[0], kept[len(kept)-1])
}

// TestWhatIsNotSetForAllStays: a line of the settings is taken away only if it can be set.
func TestWhatIsNotSetForAllStays(t *testing.T) {
	answers, kept := session(t, "quay.md", nil, "add closed basic", "set 0 dance", "set 0", "set 0 Hall: 9 x 6", "set 0 lead in 2")
	assert.Equal(t, strings.Replace(kept[0], "rumba\n", "rumba\nlead-in: 2 bars\nfloor: 9 x 6 m\n", 1), kept[len(kept)-1])
	assert.Contains(t, answers, "\"dance\" is not set for the whole routine")
	assert.Contains(t, answers, "Set what? tempo, lead-in and floor can be set for the whole routine.\n")
}

// TestWhatIsStillWrongIsNamed, and read again only where it is asked for.
func TestWhatIsStillWrongIsNamed(t *testing.T) {
	answers, _ := session(t, "quay.md", nil, "add closed basic", "add fan", "at 1", "set 1 remark look up", "at 2", "add fan", "at 1", "set 1 times 2")
	said := strings.Split(answers, "\n")
	assert.Contains(t, answers, "Fan starts with the RF and the LF. Dance between them: ")
	assert.Contains(t, said, "Line 2 is still wrong.")
	assert.Contains(t, said, "Lines 2 and 3 are still wrong.")
	assert.Equal(t, 2, strings.Count(answers, "after Closed basic"), "when it is put in, and at 2")
}

// TestWhatCanNotBeKeptIsNotLost: nobody is told that it is kept, "quit" is asked about, and the sheet is written out.
func TestWhatCanNotBeKeptIsNotLost(t *testing.T) {
	full := errors.New("no space left on device")
	nowhere := filepath.Join(t.TempDir(), "gone", "quay.md")
	for name, commands := range map[string][]string{
		"the end": {"add closed basic", "add closed basic", "save"},
		"quit":    {"add closed basic", "add closed basic", "quit", "save", "quit", "add Fan"},
	} {
		answers, kept := session(t, nowhere, full, commands...)
		assert.NotContains(t, answers, "kept as a draft", name)
		assert.Contains(t, answers, "Not saved, and still only in memory: ", name)
		assert.Equal(t, 1, strings.Count(answers, "only in memory until you save it: no space left on device"), name)
		assert.Contains(t, answers, "It is still only in memory.\n", name)
		assert.Equal(t, name == "quit", strings.Contains(answers, "or say \"quit\" again"), name)
		assert.True(t, strings.HasSuffix(answers, "This is the sheet:\n"+kept[1]), name)
	}
	answers, _ := session(t, filepath.Join(t.TempDir(), "quay.md"), full, "add closed basic", "save", "quit")
	assert.NotContains(t, answers, "neither saved")
}

// TestPartsAreTyped: one is made, read, danced again and taken apart.
func TestPartsAreTyped(t *testing.T) {
	path := filepath.Join(t.TempDir(), "quay.md")
	answers, _ := session(t, path, nil, "add Closed basic", "add Side step to the left", "part 1 2", "add part a × 2", "order", "part 2 2 Lantern part", "next lantern", "apart 2", "apart 1", "remove 1", "part 1 x", "part 1 1 fan", "apart 1", "save")
	for _, says := range []string{
		"1: Part A, bar 1. You are here.\n", "2: Part A × 2, bar ", "Part A:\n3: Closed basic, bar 1.\n", "Lantern part, ", "Which line?", "No part: fan is a figure.\n",
	} {
		assert.Contains(t, answers, says)
	}
	text, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, "---\ndance: rumba\n---\n\n# Quay\n\n## Order\n\n1. Side step to the left\n2. Part A × 2\n\n### Part A\n\n1. Closed basic\n2. Side step to the left\n", string(text))
}

// TestUndoGoesBackToTheLine that was changed: the next figure goes in after it.
func TestUndoGoesBackToTheLine(t *testing.T) {
	path := filepath.Join(t.TempDir(), "quay.md")
	session(t, path, nil, "add Closed basic", "remove 1", "undo", "add Fan", "save")
	text, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Contains(t, string(text), "\n1. Closed basic\n2. Fan\n")
}

// TestEachCommandSaysWhatItNeeds, and changes nothing without it.
func TestEachCommandSaysWhatItNeeds(t *testing.T) {
	for command, says := range map[string]string{
		"waltz": `There is no command "waltz"`, "add": "Add which figure?", "remove 3": "Which line? The order has 1 line", "at x": "Which line?", "take 1": "Take which?",
		"change 1": "Into which figure?", "set 1": "Set what?", "move 1 9": "Which line?", "links moonstep": `No figure is called "moonstep"`, "redo": "nothing to redo",
		"next moonstep": "Nothing by that name", "help": "puts a figure in after that line", "": "You are here",
	} {
		answers, kept := session(t, "quay.md", nil, "add closed basic", command)
		assert.Contains(t, answers, says, command)
		assert.Contains(t, answers, "kept as a draft")
		assert.Equal(t, kept[0], kept[len(kept)-1], command)
	}
}

// TestOffersAreForTheLineWhereTheyWereMade, so that none is taken from another.
func TestOffersAreForTheLineWhereTheyWereMade(t *testing.T) {
	for _, at := range []string{"at 0", "at 1"} {
		answers, kept := session(t, "quay.md", nil, "add closed basic", "next", at, "take 1")
		assert.Contains(t, answers, "Take which?", at)
		assert.Equal(t, kept[0], kept[len(kept)-1], at)
	}
}

// TestWhatIsWrongIsRead with the line that it is in.
func TestWhatIsWrongIsRead(t *testing.T) {
	answers, _ := session(t, "quay.md", nil, "add closed basic", "add fan")
	assert.Contains(t, answers, "2: Fan, bar 3. You are here.\n   error: after Closed basic the leader's LF is free")
	answers, _ = session(t, "quay.md", errors.New("no space left on device"), "add closed basic")
	assert.Contains(t, answers, "only in memory until you save it: no space left on device")
	answers, _ = session(t, filepath.Join(t.TempDir(), "gone", "quay.md"), nil, "add closed basic", "save")
	assert.Contains(t, answers, "Not saved, but kept as a draft")
}

// TestANewerFileIsAskedAbout, and written over only when it is named again.
func TestANewerFileIsAskedAbout(t *testing.T) {
	path := filepath.Join(t.TempDir(), "quay.md")
	require.NoError(t, os.WriteFile(path, []byte("another's"), 0o600))
	answers, _ := session(t, path, nil, "add closed basic", "save")
	assert.Contains(t, answers, "holds something newer")
	text, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, "another's", string(text))
	_, _ = session(t, path, nil, "add closed basic", "save", "save")
	text, err = os.ReadFile(path)
	require.NoError(t, err)
	assert.Contains(t, string(text), "1. Closed basic\n")
}
