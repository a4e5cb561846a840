package routine_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"dance.example/slowquick/routine"
)

// prose is what people write beside their steps.
var prose = map[string]string{
	"a sentence":            "The doors to the river stay open, and the lanterns are lit at eight.",
	"a recipe":              "Lantern punch (for 12):\n\n- 2 bottles of cider\n- 1 lemon, cut in slices\n- sugar: to taste\n\nWarm it slowly; 2 times round with the spoon.",
	"a song":                "Row, row, row your boat,  \nGently down the stream.  \nLeft, right, left, right,  \nLife is but a dream.",
	"a quote":               "> Dance first. Think later.\n>\n> - a sign at the boathouse",
	"code":                  "```\nfor i := 1; i <= 3; i++ {\n\tprint(i) | sort\n}\n```",
	"indented code":         "    slowquick dance lantern-night.md\n    slowquick check lantern-night.md",
	"a letter":              "Dear all,\n\nplease bring shoes with a strap: the floor is smooth.\n\nSee you at 8,\n**Rosa**",
	"bold words":            "**Please note**\n\nThe last boat leaves at 11.",
	"a link":                "See [the river](https://example.org/river) and ![a lantern](lantern.png).",
	"contents":              "- [The way](#the-way)\n- [The tea](#the-tea)\n  - cups: twenty",
	"a rule":                "Above.\n\n---\n\nBelow.",
	"a comment":             "<!--\n| Count | Leader | Follower |\nnot yet\n-->",
	"bars and commas":       "tea | coffee, milk; sugar",
	"times of day":          "19:30 doors, 20:00 class\n21:00 dance",
	"numbers in a sentence": "We dance in 4/4, 2 bars at a time; in\n2019. Then came the flood.",
	"hashtags":              "#lanternnight #boathouse",
	"another script":        "\u706f\u7c60\u306e\u591c\u3002 \u00bb Nuit des lanternes \u00ab\u00a0: ce soir\u00a0!",
	"html":                  "<p>The <b>river</b></p>",
}

// lists are prose, but not below Order nor in a figure's section, where they may be meant to be read.
var proseLists = map[string]string{
	"a numbered recipe": "1. Light the lanterns.\n2. Open the doors.\n3. Mind the step.",
	"a table":           "| Who | Brings |\n|-----|--------|\n| Rosa | tea |\n| all | cups |",
	"a table of times":  "| Day | From | To |\n|---|---|---|\n| Monday | 8 | 9 |",
	"who dances":        "| Leader | Follower |\n|--------|----------|\n| Rosa | all |\n| Ada | the rest |",
	"a programme":       "| Time | What |\n|---|---|\n| 8:00 | class |\n| 9:00 | dance |",
	"facts of the hall": "- floor: oak\n- door: the left one\n- starts: at eight",
	"nested lists":      "1. Bring\n   - shoes\n   - tea: black\n2. Leave\n   1. coats\n   2. bags",
}

// TestProseIsFree: what is written for people is never a finding, wherever it stands.
func TestProseIsFree(t *testing.T) {
	lib := shipped()
	check := func(t *testing.T, sheet string) {
		assert.Empty(t, routine.Check("prose.md", []byte(sheet), lib), "%s", sheet)
		tidied, _ := routine.Tidy("prose.md", []byte(sheet), lib)
		assert.Equal(t, sheet, string(tidied))
	}
	const front, order, figure = "---\ndance: cha-cha\n---\n\n", "## Order\n\n1. Closed basic\n2. Lantern step\n", "## Lantern step\n\n- starts: closed\n\n| Count | Leader     | Follower   |\n|:-----:|------------|------------|\n|   2   | LF forward | RF back    |\n|   3   | RF replace | LF replace |\n|  4-1  | LF side    | RF side    |\n| 2-3   | RF side | LF side |\n| 4-1 | LF close | RF close |\n"
	tidyFigure, _ := routine.Tidy("figure.md", []byte(front+order+"\n"+figure), lib)
	const heads = len(front + order + "\n")
	good := string(tidyFigure[heads:])
	for name, text := range prose {
		t.Run(name, func(t *testing.T) {
			check(t, front+text+"\n\n"+order+"\n"+good)
			check(t, front+"# Lantern Night\n\n"+order+"\n"+good+"\n## What to bring\n\n"+text+"\n")
			if name != "a recipe" && name != "contents" {
				check(t, front+order+"\n"+text+"\n\n"+good)
				check(t, front+order+"\n"+good+"\n"+text+"\n")
			}
		})
	}
	for name, text := range proseLists {
		t.Run(name, func(t *testing.T) {
			check(t, front+order+"\n"+good+"\n## What to bring\n\n"+text+"\n")
			check(t, front+"# Lantern Night\n\n"+text+"\n\n"+order+"\n"+good)
		})
	}
}
