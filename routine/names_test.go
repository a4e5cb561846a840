package routine_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"dance.example/slowquick/routine"
)

func TestNamesAreTheSame(t *testing.T) {
	for _, same := range [][]string{
		{"Closed basic", "closed BASIC", "  closed   basics ", "closed-basic", "*Closed* basic!", "closedbasic"},
		{"Chassé from promenade", "chasse from promenade", "chasse\u0301 from promenades", "CHASSÉ, from: promenade"},
		{"Lady's underarm turn", "ladys underarm turn", "lady’s underarm turns"},
		{"4–6 of the reverse turn", "4-6 of the reverse turn"},
	} {
		for _, name := range same[1:] {
			assert.Equal(t, routine.Key(same[0]), routine.Key(name), name)
		}
	}
	for _, differ := range [][2]string{{"New York to the left side", "New York to the right side"}, {"Box step", "Box"}, {"Fan", "Fans on"}, {"LF change", "RF change"}} {
		assert.NotEqual(t, routine.Key(differ[0]), routine.Key(differ[1]), differ)
	}
}

func TestNearest(t *testing.T) {
	figures := []string{"Closed basic", "Open basic", "Spot turn to the left", "Spot turn to the right", "Underarm turn to the right", "Fan", "Alemana from fan", "Chassé"}
	for name, want := range map[string][]string{
		"Closed bsaic":                           {"Closed basic"},
		"clsed basik":                            {"Closed basic"},
		"chase":                                  {"Chassé"},
		"Fna":                                    {"Fan"},
		"spot turn":                              {"Spot turn to the left", "Spot turn to the right"},
		"Alemna":                                 {"Alemana from fan"},
		"turn":                                   {"Spot turn to the left", "Spot turn to the right", "Underarm turn to the right"},
		"closed basic from the very beginning":   {"Closed basic"},
		"Samba roll":                             nil,
		"":                                       nil,
		"灯籠":                                     nil,
		strings.Repeat("closed basic ", 100_000): nil,
	} {
		assert.Equal(t, want, routine.Nearest(name, figures), "%.40s", name)
	}
}

func TestOrdinal(t *testing.T) {
	for n, want := range map[int]string{1: "1st", 2: "2nd", 3: "3rd", 4: "4th", 10: "10th", 11: "11th", 12: "12th", 13: "13th", 21: "21st", 102: "102nd", 111: "111th"} {
		assert.Equal(t, want, routine.Ordinal(n))
	}
}
