package library_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/library/check"
	"dance.example/slowquick/library/choreography"
	"dance.example/slowquick/routine"
	"dance.example/slowquick/routine/floor"
	"dance.example/slowquick/testdata/thorough"
)

// inOrder returns a sheet that dances figures one after the other.
func inOrder(dance string, figures ...string) []byte {
	text := fmt.Sprintf("---\ndance: %s\n---\n\n## Order\n\n", dance)
	for i, name := range figures {
		text += fmt.Sprintf("%d. %s\n", i+1, name)
	}
	return []byte(text)
}

// ofPlaces returns the findings about where the partners are.
func ofPlaces(found []routine.Finding) (list []routine.Finding) {
	for _, f := range found {
		switch f.Code {
		case "place-missed", "too-near", "too-far":
			list = append(list, f)
		}
	}
	return list
}

// TestWhatFollowsFindsThePartner: in the dances that keep their hold, each figure leaves
// the partners where any figure that may follow expects them. One pair in seven is tried,
// all of them with THOROUGH=1.
func TestWhatFollowsFindsThePartner(t *testing.T) {
	lib := shipped()
	for _, dance := range []string{"argentine tango", "foxtrot", "paso doble", "quickstep", "samba", "social foxtrot", "tango", "viennese waltz", "waltz", "west coast swing"} {
		t.Run(dance, func(t *testing.T) {
			c, ok := lib.Chapter(dance)
			require.True(t, ok)
			followed, pairs := 0, 0
			for _, first := range c.Figures {
				for _, next := range c.Figures {
					if pairs++; !thorough.Asked() && pairs%7 != 1 {
						continue
					}
					_, found := check.Sheet("order.md", inOrder(dance, first.Name, next.Name), lib)
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
			assert.Greater(t, followed, len(c.Figures)/7)
		})
	}
}

// TestBasicsAreDancedOverAndOver: however often a basic is danced in a row, the partners stay together.
func TestBasicsAreDancedOverAndOver(t *testing.T) {
	lib := shipped()
	tried := 0
	for _, c := range lib.Chapters() {
		for _, fig := range c.Figures {
			if !strings.Contains(strings.ToLower(fig.Name), "basic") || len(choreography.Parted(c.Dance, fig, fig)) > 0 {
				continue
			}
			item := routine.Whole(fig)
			item.Times = 16
			score, found := routine.InOrder(c.Dance, nil, item)
			assert.Empty(t, ofPlaces(floor.Check(score, found)), "%s, %s", c.Dance.Name, fig.Name)
			tried++
		}
	}
	assert.Greater(t, tried, 30)
}

// TestUsualOrders: figures commonly taught one after the other can be danced so. The orders
// of the travelling dances are from printed lists of what may follow what (common
// practice), those of dances that open to arm's length and close again from memory.
func TestUsualOrders(t *testing.T) {
	lib := shipped()
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
		{"samba", "Closed rocks; Open rocks; Reverse turn, steps 1–3; Back rocks; Reverse turn, steps 4–6; Whisk to the left"},
		{"samba", "Whisk to the right opened to promenade; Promenade samba walk, left foot; Promenade samba walk, right foot; Promenade samba walk, left foot; Side samba walk; Foot change from closed to right shadow; Shadow travelling volta to the right; Shadow travelling volta to the left; Samba walks in right shadow; Foot change from right shadow to closed; Reverse basic"},
		{"jive", "Half link; Whip; Fallaway throwaway; Overturned change of places left to right; Simple spin; Half link; Double whip; Fallaway rock"},
		{"rumba", "American rumba box; American rumba underarm turn; American rumba box, steps 1–3; American rumba open break; American rumba fifth position breaks; American rumba box; American rumba cross-body lead; American rumba Cuban walks"},
		{"rumba", "Closed basic, steps 1–3; Fan; Alemana to rope spinning; Rope spinning; Forward half of the closed basic; Reverse top, steps 1–6; Opening out from reverse top; Hockey stick; Curl; Alemana from fan; Spiral; Sliding doors"},
		{"cha-cha", "Time step; Closed basic, steps 1–5; Fan; Alemana to rope spinning; Rope spinning; There and back; Advanced hip twist; Hockey stick; Turkish towel; Left foot Cuban break; Right foot Cuban break; Split Cuban break; Switch turn to the right"},
		{"salsa", "Basic step on 2; Cross-body lead on 2; Cross-body lead with inside turn on 2; Underarm turn to the right on 2; Leader's left turn on 2; Basic step on 2"},
		{"bolero", "Basic; Cross-body lead; Turning basic; Open break; Underarm turn to the right; Crossover back breaks; Crossover breaks; Fence line; Right pass"},
		{"west coast swing", "Starter step; Throwout; Sugar push; Left side pass; Underarm pass; Right side pass; Tuck turn; Whip; Sugar push"},
		{"hustle", "Closed basic; Throwout; Basic; Right turn; Left turn; Underarm turn to the left; Loop turn; Wheel; Link to close; Closed basic"},
		{"jive", "Promenade walks; Fallaway throwaway; Stop and go; Hip bump; Change of places left to right; Link, steps 1–5; Whip throwaway; Windmill; Chicken walks"},
		{"jive", "Link; Mooch; Fallaway rock, steps 1–5; Whip; Fallaway rock, steps 1–5; Double whip; Fallaway throwaway; Spanish arms; Stop and go"},
		{"jive", "Change of hands behind the back; Rolling off the arm; American spin; Stop and go; Stop and go; Link"},
		{"foxtrot", "Feather step; Reverse turn; Three step; Natural turn; Feather step; Open telemark; Feather ending; Three step"},
		{"foxtrot", "Feather step; Reverse turn; Checked reverse turn; Basic weave; Three step; Natural turn, steps 1–3; Closed impetus and feather finish"},
		{"foxtrot", "Feather step; Reverse turn; Three step; Natural turn, steps 1–3; Open impetus; Weave from promenade; Change of direction; Feather step"},
		{"foxtrot", "Feather step; Closed telemark; Natural weave; Reverse wave, steps 1–6; Closed impetus and feather finish; Reverse turn; Hover telemark; Feather step"},
		{"quickstep", "Natural turn with hesitation; Chassé reverse turn; Progressive chassé; Forward lock; Quarter turn; Progressive chassé"},
		{"quickstep", "Natural spin turn; Progressive chassé; Natural turn, steps 1–3; Back lock; Running finish; Forward lock"},
		{"quickstep", "Natural turn with hesitation; Progressive chassé to the right; Back lock; Running finish"},
		{"quickstep", "Natural turn, steps 1–3; Tipple chassé to the right; Natural pivot turn; RF walk; Zig-zag; Back lock; Running finish"},
		{"quickstep", "Natural turn with hesitation; Chassé reverse turn; Reverse pivot; Cross chassé; Forward lock"},
		{"quickstep", "Quarter turn, steps 1–3; V6; Natural turn, steps 1–3; Closed impetus"},
		{"tango", "Two walks; Progressive link; Closed promenade; Two walks curving left; Open reverse turn; Progressive link; Natural twist turn; Closed promenade"},
		{"tango", "Progressive link; Natural promenade turn; Closed promenade; Open reverse turn with open finish; Four step; Closed promenade"},
		{"tango", "Progressive link; Back open promenade; Left foot rock; Closed finish; Progressive side step; RF walk; Rock turn"},
		{"tango", "Two walks curving left; Progressive side step reverse turn; Progressive link; Open promenade; Outside swivel; Closed promenade; Two walks"},
		{"tango", "Two walks curving left; Open reverse turn, lady in line; Progressive link; Promenade link; Two walks"},
		{"tango", "Progressive link; Back open promenade; Left foot rock; Right foot rock; Back corté; Progressive side step; RF walk; Brush tap"},
		{"tango", "Progressive link; Back open promenade; Left foot rock; Open finish; Four step; Closed promenade; Brush tap; Two walks"},
		{"paso doble", "Sur place; Promenade; Chassé to the right; Separation; Separation; Attack; Chassé to the right"},
		{"paso doble", "Écart; Huit; Sur place; Sixteen; Déplacement; Promenade link; Drag"},
		{"paso doble", "Promenade and counter promenade; Grand circle; Basic movement; Separation with caping walk; Sur place"},
		{"paso doble", "Open telemark; Promenade close; Basic movement backward; Écart; Promenade close"},
		{"viennese waltz", "Natural turn; Natural turn; RF forward change; Reverse turn; Reverse turn; LF forward change; Natural turn"},
		{"viennese waltz", "Natural turn; Natural turn, steps 1–3; LF backward change; Reverse turn, steps 4–6; Reverse turn, steps 1–3; RF backward change; Natural turn, steps 4–6"},
		{"viennese waltz", "Left box turn; Balance to the left and right; Fifth position breaks; Cross-body lead; Progressive hesitation; Left hesitation turn; Canter to the left"},
		{"viennese waltz", "Left box turn, steps 1–3; Underarm turn to the right; Left box turn, steps 4–6; Balance forward and back"},
		{"viennese waltz", "Reverse fleckerl; Reverse fleckerl; Contra check; Natural fleckerl"},
		{"argentine tango", "Walk; Rock turn; Ocho cortado; Resolution; Basic in eight; Salida with cross; Forward ochos; Resolution"},
		{"argentine tango", "Salida with cross; Media luna; Resolution; Salida with cross; Giro to the right; Sandwich; Back ochos; Resolution"},
		{"waltz", "Natural spin turn; Reverse turn, steps 4–6; Whisk; Chassé from promenade; Hesitation change; Progressive chassé to the right; Natural turn, steps 4–6"},
		{"waltz", "Natural turn, steps 1–3; Outside change; Natural turn; RF closed change; Reverse turn; LF closed change; Natural turn, steps 1–3; Closed impetus"},
		{"waltz", "Natural turn, steps 1–3; Open impetus; Weave from promenade; Natural turn; RF closed change; Open telemark; Chassé from promenade"},
		{"social foxtrot", "Forward basic; Sway step; Quarter turn to the right; Promenade walk; Twinkle; Quarter turn to the left; Left rock turn; Box step"},
		{"salsa", "Basic step; Cross-body lead; Underarm turn to the right; Crossover; Cross-body lead with inside turn; Back rocks"},
		{"salsa", "Side basic; Open break with underarm turn; Cross-body lead with outside turn; Open break; Underarm turn to the left; Leader's right turn; Suzie Q"},
		{"bachata", "Side basic; Box step; Turning basic to the left; Underarm turn to the right; Underarm turn to the left; Cuddle; Leader's turn to the left; Open back breaks; Solo turns"},
		{"merengue", "Basic in place; Left turning basic; Side basic with rock step; Separation; Underarm turn to the right; Cuddle; Leader's turn to the left; Underarm turn to the left; Side basic with tap"},
		{"mambo", "Basic step; Cross-body lead; Fifth position breaks; Open break with underarm turn; Crossover breaks; Crossover break and spot turn; Cross-body lead with inside turn; Chase turn; Side breaks"},
		{"triple swing", "Basic; Turning basic to the right; Underarm turn to the right; Underarm turn to the left; Tuck-in turn; Cuddle; Hand change behind the back; Return to closed; Throwaway; Open basic"},
		{"single swing", "Basic; Turning basic to the right; Underarm turn to the right; Underarm turn to the left; Tuck-in turn; Cuddle; Hand change behind the back; Return to closed; Throwaway; Open basic"},
	} {
		t.Run(test.dance+"/"+test.order, func(t *testing.T) {
			score, found := check.Sheet("order.md", inOrder(test.dance, strings.Split(test.order, "; ")...), lib)
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
