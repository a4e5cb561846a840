package library_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"dance.example/slowquick/library"
	"dance.example/slowquick/library/check"
	"dance.example/slowquick/routine"
)

// TestAmalgamations: short orders that teachers give go round the room as one writes them, with the plain
// names of figures. A line ends with |, where a corner is taken. Sources: ballroomguide.com, Beginner and
// Bronze routines; idans.nl, Bronze and Silver; dancecentral.info, pages of figures and its blog of 2009;
// ballroomindex.weebly.com and ballroomdancers.com, Quickstep Natural Turn and Natural Pivot Turn; wkiri.com,
// The Reverse Corte in Waltz; dancesport.uk.com, Dancing Tid-bits 64; princetonballroom.wikispaces.com, Open
// Reverse Turn; rounddancing.net, Roy and Phyllis Stier; ithacadance.com and superdancing.com for the
// American foxtrot; the rest common practice.
func TestAmalgamations(t *testing.T) {
	lib := shipped()
	for _, test := range []struct{ name, dance, faces, order string }{
		{"ballroomguide Beginner", "waltz", "DW", "Natural turn; RF closed change; Reverse turn; LF closed change"},
		{"ballroomguide Beginner, corner", "waltz", "DW", "Natural turn|; Natural turn; RF closed change; Reverse turn; LF closed change"},
		{"idans, spin turn and whisk", "waltz", "DW", "Natural spin turn; Reverse turn, steps 4–6; Whisk; Chassé from promenade"},
		{"hesitation and chassé to the right", "waltz", "DW", "Hesitation change; Progressive chassé to the right; Natural turn, steps 4–6; RF closed change; Reverse turn; LF closed change"},
		{"outside change", "waltz", "DW", "Natural turn, steps 1–3; Outside change; Natural turn; RF closed change; Reverse turn; LF closed change"},
		{"closed impetus", "waltz", "DW", "Natural turn, steps 1–3; Closed impetus; Reverse turn, steps 4–6; Reverse turn; LF closed change"},
		{"wkiri, reverse corté", "waltz", "DC", "Reverse turn, steps 1–3; Reverse corté; Back whisk; Chassé from promenade; Natural turn"},
		{"idans Silver, spin turn at a corner", "waltz", "DW", "Natural spin turn|; Reverse turn, steps 4–6; Whisk; Chassé from promenade"},
		{"idans Silver, open impetus", "waltz", "DW", "Natural turn, steps 1–3; Open impetus; Weave from promenade; Natural turn; RF closed change"},
		{"ballroomguide Bronze", "waltz", "DW", "Natural spin turn; Reverse turn, steps 4–6; Whisk; Chassé from promenade; Hesitation change; Progressive chassé to the right; Outside change to promenade; Chassé from promenade"},
		{"ballroomguide Bronze, whisk at a corner", "waltz", "DW", "Natural spin turn; Reverse turn, steps 4–6; Whisk|; Chassé from promenade"},

		{"Tid-bits 64", "tango", "DW", "Two walks × 2; Progressive link; Closed promenade"},
		{"Princeton", "tango", "DW", "Two walks curving left; Open reverse turn"},
		{"side step and link", "tango", "DW", "Two walks; Progressive side step; RF walk; Progressive link; Closed promenade"},
		{"ballroomdancething 2009, rock turn", "tango", "DW", "Two walks; Rock turn"},
		{"idans Bronze, back corté at a corner", "tango", "DW", "Two walks; Progressive link; Closed promenade|; Back corté"},
		{"idans Bronze, twist turn", "tango", "DW", "Progressive link; Natural twist turn; Closed promenade; Two walks; Open reverse turn"},
		{"dancecentral, four step", "tango", "DW", "Progressive link; Promenade link; Four step; Closed promenade"},
		{"idans Bronze, link at a corner", "tango", "DW", "Two walks; Progressive link|; Closed promenade"},

		{"ballroomguide Bronze", "foxtrot", "DC", "Feather step; Reverse turn; Three step; Natural turn"},
		{"ballroomguide Bronze, checked reverse", "foxtrot", "DC", "Feather step; Reverse turn; Checked reverse turn; Basic weave; Three step; Natural turn"},
		{"change of direction", "foxtrot", "DC", "Feather step; Reverse turn; Change of direction; Feather step"},
		{"dancecentral, impetus", "foxtrot", "DC", "Feather step; Reverse turn; Three step; Natural turn, steps 1–3; Closed impetus and feather finish; Reverse turn"},
		{"dancecentral, reverse wave", "foxtrot", "DC", "Feather step; Reverse turn; Reverse wave; Feather step"},
		{"natural weave", "foxtrot", "DC", "Feather step; Reverse turn; Three step; Natural weave; Three step; Natural turn"},
		{"dancecentral Silver, telemark", "foxtrot", "DC", "Feather step; Open telemark; Feather ending"},
		{"ballroomguide, natural turn at a corner", "foxtrot", "DC", "Feather step; Reverse turn; Three step; Natural turn|; Feather step; Reverse turn"},
		{"dancecentral Silver, hover cross at a corner", "foxtrot", "DC", "Feather step; Reverse turn; Three step; Hover cross|; Reverse turn"},
		{"dancecentral, top spin at a corner", "foxtrot", "DC", "Feather step; Reverse turn; Top spin|; Reverse turn"},

		{"ballroomguide Beginner", "quickstep", "DW", "Quarter turn; Progressive chassé; Forward lock"},
		{"idans Bronze", "quickstep", "DW", "Natural spin turn; Progressive chassé; Natural turn with hesitation; Progressive chassé to the right; Back lock; Running finish; Natural spin turn; Progressive chassé"},
		{"ballroomindex, natural turn at a corner", "quickstep", "DW", "Quarter turn; Progressive chassé; Forward lock; Natural turn|; Quarter turn; Progressive chassé"},
		{"ballroomdancers, pivot at a corner", "quickstep", "DW", "Natural pivot turn|; Natural spin turn; Progressive chassé"},
		{"dancecentral blog, pivot", "quickstep", "DW", "Natural pivot turn; Natural spin turn; Progressive chassé; Forward lock"},
		{"dancecentral blog, chassé reverse", "quickstep", "DC", "Chassé reverse turn; Progressive chassé; Forward lock; Natural turn with back lock; Running finish|; Natural turn, steps 1–3; Closed impetus; Reverse pivot"},
		{"dancecentral, running finish at a corner", "quickstep", "DC", "Progressive chassé to the right; Back lock; Running finish|; Natural spin turn; Progressive chassé"},
		{"dancecentral blog, quarter turn to the left", "quickstep", "DW", "Natural spin turn; Quarter turn to the left; Cross chassé; Natural turn"},
		{"dancecentral blog, zig-zag", "quickstep", "LOD", "Zig-zag, back lock and running finish; Natural spin turn; Progressive chassé"},

		{"Stier, right and left turns", "viennese waltz", "DC", "Natural turn × 3; RF forward change; Reverse turn × 3; LF forward change"},
		{"right turns round a corner", "viennese waltz", "DC", "Natural turn × 3|; Natural turn × 2; RF forward change"},
		{"left turns round a corner", "viennese waltz", "DW", "Reverse turn × 3|; Reverse turn"},
		{"backward change, from right to left", "viennese waltz", "DC", "Natural turn, steps 1–3; LF backward change; Reverse turn, steps 4–6; Reverse turn"},
		{"backward change, from left to right", "viennese waltz", "DW", "Reverse turn, steps 1–3; RF backward change; Natural turn, steps 4–6; Natural turn"},
		{"idans, change and change", "viennese waltz", "DC", "Natural turn; RF forward change; LF forward change; Natural turn"},
		{"balances and box turns", "viennese waltz", "LOD", "Balance to the left and right; Balance forward and back; Left box turn × 2"},
		{"hesitations along the line", "viennese waltz", "LOD", "Progressive hesitation × 2; Left box turn × 2"},

		{"ithacadance, rock turn at a corner", "social foxtrot", "LOD", "Forward basic × 3; Left rock turn"},
		{"ithacadance, promenades", "social foxtrot", "LOD", "Forward basic; Quarter turn to the right; Promenade walk; Promenade with underarm turn"},
		{"box turns", "social foxtrot", "LOD", "Forward basic × 2; Left box turn × 2"},
		{"ithacadance, sway step", "social foxtrot", "wall", "Sway step; Promenade walk"},
		{"quarter turns", "social foxtrot", "LOD", "Quarter turn to the right; Quarter turn to the left"},
		{"twinkle", "social foxtrot", "wall", "Twinkle; Promenade walk × 2"},
		{"ithacadance, zig-zag", "social foxtrot", "LOD", "Zig-zag in line; Forward basic × 2"},
		{"superdancing, rock turn and box", "social foxtrot", "LOD", "Left rock turn × 2; Box step"},
	} {
		t.Run(test.dance+"/"+test.name, func(t *testing.T) { danced(t, lib, test.dance, test.faces, test.order) })
	}
}

// TestJoinsThatAreDanced: what follows begins on another alignment than usual, or the figure before it ends on one.
func TestJoinsThatAreDanced(t *testing.T) {
	const idans, central, dancers, memory = "idans.nl, Quarter Turn and Bronze Quickstep", "dancecentral.info, Foxtrot Natural Turn", "ballroomdancers.com, Natural Pivot Turn", "from memory"
	lib := shipped()
	for _, test := range []struct{ dance, faces, order, source string }{
		{"quickstep", "DC", "Progressive chassé to the right; Back lock; Running finish; Natural spin turn", idans},
		{"quickstep", "DC", "Progressive chassé to the right; Back lock; Running finish; Quarter turn", idans},
		{"quickstep", "DC", "Progressive chassé to the right; Back lock; Running finish; Natural turn", idans},
		{"quickstep", "DW", "Natural pivot turn|; Natural spin turn", dancers},
		{"quickstep", "DW", "Natural pivot turn|; Quarter turn", dancers},
		{"quickstep", "DW", "Natural pivot turn|; Natural turn", dancers},
		{"foxtrot", "LOD", "Natural turn; Feather step", central},
		{"foxtrot", "LOD", "Feather step; Reverse turn", memory},
		{"foxtrot", "DW", "Natural turn|; Feather step", central},
		{"Viennese waltz", "DC", "Natural turn × 2|; Natural turn × 4", memory},
		{"Viennese waltz", "DW", "Reverse turn × 2|; Reverse turn × 4", memory},
		{"tango", "DW", "Progressive link; Promenade link; Progressive link", "common practice"},
		{"waltz", "DW", "Natural turn, steps 1–3; Outside change", "ballroomguide.com, Beginner Waltz"},
		{"waltz", "DW", "Whisk; Weave from promenade", "uobbalads.co.uk, Waltz Syllabus"},
		{"waltz", "DW", "Natural spin turn; Reverse turn, steps 4–6", "ballroomguide.com, Bronze Waltz"},
		{"waltz", "DW", "Natural turn, steps 1–3; Closed impetus; Reverse turn, steps 4–6; Reverse turn", "dancecentral.info, Foxtrot Closed Impetus and Feather Finish"},
	} {
		t.Run(test.dance+"/"+test.order, func(t *testing.T) {
			t.Log(test.source)
			danced(t, lib, test.dance, test.faces, test.order)
		})
	}
}

// danced asserts that check finds nothing in an order but that it may end within a bar.
func danced(t *testing.T, lib *library.Library, dance, faces, order string) {
	t.Helper()
	text := fmt.Sprintf("---\ndance: %s\nfaces: %s\n---\n\n## Order\n\n", dance, faces)
	for i, name := range strings.Split(order, "; ") {
		name, corner := strings.CutSuffix(name, "|")
		text += fmt.Sprintf("%d. %s\n", i+1, name)
		if corner {
			text += "   - corner: after\n"
		}
	}
	_, found := check.Sheet("order.md", []byte(text), lib)
	for _, f := range routine.Objections(found) {
		assert.Equal(t, routine.Code("last-bar-open"), f.Code, f.Message)
	}
}
