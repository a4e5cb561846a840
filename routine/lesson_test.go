package routine_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/routine"
)

// TestForWhomASheetIs: teacher, class and date are read in all languages.
func TestForWhomASheetIs(t *testing.T) {
	want := routine.Lesson{Teacher: "The boathouse", Class: "Lantern Night, beginners", Date: "2026-09-04"}
	for _, keys := range [][3]string{{"teacher", "class", "date"}, {"Teachers", "Course", "On"}, {"Lehrerin", "Kurs", "Datum"},
		{"Professeur", "Cours", "Date"}, {"Profesora", "Clase", "Fecha"}, {"Insegnante", "Corso", "Data"}} {
		score, found := routine.Read("sheet.md", []byte(toSong(keys[0]+": The boathouse\n"+keys[1]+": Lantern Night, beginners\n"+keys[2]+": 2026-09-04")), chaBook{})
		for _, f := range found {
			assert.NotEqual(t, routine.Error, f.Severity, "%s: %s", keys[0], f.Message)
		}
		assert.Equal(t, want, score.Lesson, keys[0])
	}
}

func TestForWhomASheetCanNotBe(t *testing.T) {
	for _, settings := range []string{"date: 4.9.2026", "date: 2026-02-30", "date: Friday", "date: 2026", `teacher: ""`, `class: " "`, "class: " + strings.Repeat("a", 81)} {
		score, found := routine.Read("sheet.md", []byte(toSong(settings)), chaBook{})
		assert.Equal(t, []routine.Code{"bad-value"}, codes(found), settings)
		require.NotNil(t, score)
		assert.Equal(t, routine.Lesson{}, score.Lesson, settings)
	}
}
