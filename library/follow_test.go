package library_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/library"
	"dance.example/slowquick/routine"
	"dance.example/slowquick/routine/floor"
)

// inOrder is a sheet that dances figures one after the other.
func inOrder(dance string, figures ...string) []byte {
	text := fmt.Sprintf("---\ndance: %s\n---\n\n## Order\n\n", dance)
	for i, name := range figures {
		text += fmt.Sprintf("%d. %s\n", i+1, name)
	}
	return []byte(text)
}

// ofPlaces are the findings of where partners can't be.
func ofPlaces(found []routine.Finding) (list []routine.Finding) {
	for _, f := range found {
		switch f.Code {
		case "place-missed", "too-near", "too-far":
			list = append(list, f)
		}
	}
	return list
}

// TestWhatFollowsFindsThePartner: in the dances whose hold lasts, each figure
// leaves the partners where any figure that may follow it finds them.
func TestWhatFollowsFindsThePartner(t *testing.T) {
	lib := library.Open()
	for _, dance := range []string{"foxtrot", "paso doble", "quickstep", "samba", "tango", "viennese waltz", "waltz"} {
		t.Run(dance, func(t *testing.T) {
			c, ok := lib.Chapter(dance)
			require.True(t, ok)
			followed := 0
			for _, first := range c.Figures {
				for _, next := range c.Figures {
					_, found := floor.Read("order.md", inOrder(dance, first.Name, next.Name), lib)
					mayFollow := true
					for _, f := range found {
						mayFollow = mayFollow && !strings.HasPrefix(string(f.Code), "join-")
					}
					if mayFollow {
						followed++
						assert.Empty(t, ofPlaces(found), "%s, then %s", first.Name, next.Name)
					}
				}
			}
			assert.Greater(t, followed, len(c.Figures))
		})
	}
}

// TestUsualOrders: figures that are commonly taught one after the other (from
// memory), in dances whose partners open to arm's length and come back.
func TestUsualOrders(t *testing.T) {
	lib := library.Open()
	for _, test := range []struct{ dance, order string }{
		{"rumba", "Closed basic, steps 1–3; Fan; Hockey stick; New York to the left side; Spot turn to the left; Hand to hand to the right side"},
		{"rumba", "Closed basic, steps 1–3; Fan; Alemana from fan; Hand to hand to the right side; Spot turn to the left"},
		{"rumba", "Closed hip twist; Hockey stick; Closed basic, steps 1–3; Back half of the closed basic; Opening out to right and left; Closed basic, steps 1–3; Natural top"},
		{"rumba", "Basic in place; Natural opening out; Back half of the closed basic; Left foot Cuban rocks; Right foot Cuban rocks; New York to the left side; Aida; Aida ending with Cuban rock and spot turn"},
		{"cha-cha", "Basic in place; Natural opening out; Fan; Alemana from fan"},
		{"cha-cha", "Forward half of the closed basic; Fan; Hockey stick; New York to the left side; Spot turn to the left; Time step"},
		{"cha-cha", "Forward half of the closed basic; Fan; Alemana from fan; Hand to hand to the right side; Spot turn to the left"},
		{"cha-cha", "Closed hip twist; Hockey stick; Open basic; Open hip twist; Alemana from fan"},
		{"jive", "Fallaway rock; Fallaway throwaway; Link; Fallaway rock"},
		{"jive", "Change of places right to left; Change of places left to right; Link"},
		{"jive", "Fallaway throwaway; American spin; Change of places left to right; Link and whip; Fallaway throwaway"},
		{"jive", "American spin; Change of hands behind the back; Basic; Link"},
		{"samba", "Natural basic; Whisk to the right; Whisk to the left; Whisk to the right opened to promenade; Promenade samba walks, steps 1–3; Side samba walk to open hold; Criss cross voltas; Shadow bota fogos; Solo spot volta to face; Travelling volta to the left; Solo spot volta to the left"},
		{"samba", "Bota fogo to promenade; Bota fogo to counter promenade; Bota fogo from counter promenade to promenade; Side samba walk; Stationary samba walks; Whisk to the left with underarm turn; Whisk to the right with underarm turn"},
		{"samba", "Open rocks; Closed rocks, steps 1–3; Reverse turn, steps 1–3; Back rocks; Reverse turn, steps 4–6; Whisk to the left"},
		{"jive", "Promenade walks; Fallaway throwaway; Stop and go; Hip bump; Change of places left to right; Link, steps 1–5; Whip throwaway; Windmill; Chicken walks"},
		{"jive", "Link; Mooch; Fallaway rock, steps 1–5; Whip; Fallaway rock, steps 1–5; Double whip; Fallaway throwaway; Spanish arms; Stop and go"},
		{"jive", "Change of hands behind the back; Rolling off the arm; American spin; Stop and go; Stop and go; Link"},
		{"salsa", "Basic step; Cross-body lead; Underarm turn to the right; Crossover; Cross-body lead with inside turn; Back rocks"},
		{"salsa", "Side basic; Open break with underarm turn; Cross-body lead with outside turn; Open break; Underarm turn to the left; Leader's right turn; Suzie Q"},
		{"bachata", "Side basic; Box step; Turning basic to the left; Underarm turn to the right; Underarm turn to the left; Cuddle; Leader's turn to the left; Open back breaks; Solo turns"},
		{"merengue", "Basic in place; Left turning basic; Side basic with rock step; Separation; Underarm turn to the right; Cuddle; Leader's turn to the left; Underarm turn to the left; Side basic with tap"},
		{"mambo", "Basic step; Cross-body lead; Fifth position breaks; Open break with underarm turn; Crossover breaks; Crossover break and spot turn; Cross-body lead with inside turn; Chase turn; Side breaks"},
		{"triple swing", "Basic; Turning basic to the right; Underarm turn to the right; Underarm turn to the left; Tuck-in turn; Cuddle; Hand change behind the back; Return to closed; Throwaway; Open basic"},
		{"single swing", "Basic; Turning basic to the right; Underarm turn to the right; Underarm turn to the left; Tuck-in turn; Cuddle; Hand change behind the back; Return to closed; Throwaway; Open basic"},
	} {
		t.Run(test.dance+"/"+test.order, func(t *testing.T) {
			score, found := floor.Read("order.md", inOrder(test.dance, strings.Split(test.order, "; ")...), lib)
			for _, f := range found {
				if f.Code == "last-bar-open" {
					continue // nobody repeats these
				}
				t.Errorf("item on line %d: %s [%s]", f.Span.Start.Line, f.Message, f.Code)
			}
			assert.NotEmpty(t, score.Passages)
		})
	}
}
