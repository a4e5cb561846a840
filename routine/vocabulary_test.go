package routine_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/routine"
)

func TestWordsMeanOneThing(t *testing.T) { assert.Empty(t, routine.Unsound()) }

// TestTheVocabularyIsRead: each step and position that the vocabulary lists is read, under each of its
// names, as what it stands for.
func TestTheVocabularyIsRead(t *testing.T) {
	var names []string
	for _, part := range routine.Vocabulary() {
		names = append(names, part.Name)
		assert.Greater(t, len(part.Terms), 8, part.Name)
		assert.True(t, slices.IsSortedFunc(part.Terms, func(a, b routine.Term) int { return strings.Compare(a.Word, b.Word) }), part.Name)
		for _, term := range part.Terms {
			for _, text := range append(term.Also, slices.Concat(term.Foreign...)...) {
				if part.Name == "counts" {
					want, _ := routine.ParseCount(term.Word)
					got, ok := routine.ParseCount(text)
					assert.True(t, ok, text)
					assert.Equal(t, want, got, text)
				}
			}
		}
	}
	assert.Equal(t, []string{"steps", "counts", "facts", "positions", "dances"}, names)
	assert.Equal(t, []string{"German", "French", "Spanish", "Italian"}, routine.Languages())
}

const lanternEnglish = `---
dance: Viennese waltz
---

## Order

1. Lantern turn

## Lantern turn

- starts: closed, leader RF free, follower LF free
- ends: closed

| Count | Leader                          | Follower                        | Note |
|:-----:|---------------------------------|---------------------------------|------|
|   1   | RF forward, 1/8 R               | LF back, 1/8 R                  |      |
|   2   | LF small side, 1/4 R            | RF side, 1/4 R                  | look |
|   3   | RF close, heel                  | LF close                        |      |
`

// TestOtherLanguages: a sheet in German, French, Spanish or Italian dances the same as the English one,
// and tidy writes it in English.
func TestOtherLanguages(t *testing.T) {
	rows := func(steps ...string) string {
		text := ""
		for i := 0; i < len(steps); i += 3 {
			text += "| " + strings.Join(steps[i:i+3], " | ") + " | |\n"
		}
		return text
	}
	for language, sheet := range map[string]string{
		"German": "---\ndance: Wiener Walzer\n---\n\n## Order\n\n1. Lantern turn\n\n## Lantern turn\n\n- Anfang: geschlossene Haltung, Herr rechter Fuß, Dame linker Fuß\n- Ende: geschlossen\n\n" +
			"| Zählzeit | Herr | Dame | Bemerkung |\n|---|---|---|---|\n" +
			rows("eins", "rechter Fuß vorwärts, 1/8 Drehung nach rechts", "LF rück, eine Achtel Drehung rechts", "zwei", "linker Fuß klein seitwärts, Viertel Drehung rechts", "RF seit, 1/4 rechts", "drei", "RF schließt, Ferse", "LF ran"),
		"French": "---\ndance: valse viennoise\n---\n\n## Order\n\n1. Lantern turn\n\n## Lantern turn\n\n- départ: position fermée, cavalier pied droit, cavalière pied gauche\n- fin: fermée\n\n" +
			"| Temps | Cavalier | Cavalière | Remarque |\n|---|---|---|---|\n" +
			rows("un", "PD en avant, 1/8 de tour à droite", "PG arrière, un huitième à droite", "deux", "pied gauche petit côté, un quart de tour à droite", "PD de côté, 1/4 à droite", "trois", "PD assemble, talon", "PG ferme"),
		"Spanish": "---\ndance: vals vienés\n---\n\n## Order\n\n1. Lantern turn\n\n## Lantern turn\n\n- inicio: posición cerrada, hombre pie derecho, mujer pie izquierdo\n- final: cerrada\n\n" +
			"| Tiempo | Hombre | Mujer | Notas |\n|---|---|---|---|\n" +
			rows("uno", "PD adelante, 1/8 a la derecha", "PI atrás, un octavo a la derecha", "dos", "pie izquierdo pequeño lado, cuarto de vuelta a la derecha", "PD al lado, 1/4 derecha", "tres", "PD cierra, tacón", "PI junta"),
		"Italian": "---\ndance: valzer viennese\n---\n\n## Order\n\n1. Lantern turn\n\n## Lantern turn\n\n- inizio: posizione chiusa, cavaliere piede destro, dama piede sinistro\n- fine: chiusa\n\n" +
			"| Tempo | Cavaliere | Dama | Nota |\n|---|---|---|---|\n" +
			rows("uno", "PD avanti, 1/8 a destra", "piede sinistro indietro, un ottavo a destra", "due", "piede sx piccolo lato, un quarto di giro a dx", "PD di lato, 1/4 dx", "tre", "PD chiude, tacco", "PS unisce"),
	} {
		tidy, found := routine.Tidy("lantern.md", []byte(sheet), shipped())
		require.Empty(t, found, language)
		assert.JSONEq(t, danced(t, []byte(lanternEnglish)), danced(t, tidy), language)
		assert.JSONEq(t, danced(t, []byte(sheet)), danced(t, tidy), language)
		assert.Contains(t, string(tidy), "- starts: closed, leader RF free, follower LF free\n- ends: closed\n", language)
		assert.Contains(t, string(tidy), "| Count |", language)
		assert.Contains(t, string(tidy), "| RF close, H ", language)
		assert.NotContains(t, string(tidy), "Cavali", language)
	}
}

func TestDancesByTheirOtherNames(t *testing.T) {
	for name, want := range map[string]string{"Wiener Walzer": "Viennese waltz", "V. waltz": "Viennese waltz", "Langsamer Walzer": "waltz", "valse lente": "waltz", "vals inglés": "waltz",
		"valzer viennese": "Viennese waltz", "Slow Fox": "foxtrot", "tango argentin": "Argentine tango", "chachachá": "cha-cha", "tcha-tcha-tcha": "cha-cha", "rhumba": "rumba"} {
		sheet, _ := routine.Parse("lantern.md", []byte("---\ndance: "+name+"\n---\n"), shipped())
		require.True(t, sheet.Known, name)
		assert.Equal(t, routine.Key(want), routine.Key(sheet.Dance.Name), name)
	}
	const own = "any dance works with its metre: write \"metre: 4/4\" below its name"
	for name, want := range map[string]string{"river shuffle": own + "; the library has " + strings.Join(shipped().Dances(), ", "), "lindy": own, "waltzz": "perhaps waltz; " + own} {
		_, found := routine.Parse("lantern.md", []byte("---\ndance: "+name+"\n---\n"), shipped())
		require.NotEmpty(t, found)
		assert.Equal(t, want, found[0].Hint)
	}
}

func TestSectionsInOtherLanguages(t *testing.T) {
	for heading, want := range map[string]string{"Reihenfolge": "order", "ABLAUF": "order", "Enchaînement": "order", "orden": "order", "Coreografia": "order", "Choreography": "order", "Order": "order", "Lantern turn": ""} {
		assert.Equal(t, want, routine.Section(heading), heading)
	}
}
