package routine_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/routine"
)

// handsSheet returns a sheet that dances figures one after the other. Each is given by a fact, and a
// detail of the leader's last step.
func handsSheet(figures ...[2]string) []byte {
	names := strings.Fields("Lantern Quay Jetty Mooring")
	text := "---\ndance: cha-cha\n---\n\n## Order\n\n"
	for i := range figures {
		text += "1. " + names[i] + " step\n"
	}
	for i, f := range figures {
		text += "\n## " + names[i] + " step\n\n" + f[0] + "\n\n| Count | Leader | Follower |\n|---|---|---|\n"
		feet := strings.NewReplacer()
		if i%2 == 1 {
			feet = strings.NewReplacer("LF", "RF", "RF", "LF")
		}
		text += feet.Replace("| 2 | LF forward | RF forward |\n| 3 | RF replace | LF replace |\n| 4 | LF side | RF side |\n| & | RF close | LF close |\n| 1 | LF side") +
			f[1] + feet.Replace(" | RF side |\n")
	}
	return []byte(text)
}

// TestAJoinComparesTheHands: a figure that starts with other hands than are held has a finding, unless a
// step changes them or a hold of the bodies comes in between.
func TestAJoinComparesTheHands(t *testing.T) {
	const rightToRight, both, silent, closed = "- starts: open facing, handshake", "- starts: open facing, double hand hold", "- starts: open facing", "- starts: closed"
	for _, test := range []struct {
		figures [][2]string
		want    int
	}{
		{[][2]string{{rightToRight}, {rightToRight}}, 0},
		{[][2]string{{rightToRight}, {both}}, 1},
		{[][2]string{{rightToRight, ", both hands"}, {both}}, 0},
		{[][2]string{{silent, ", right hands joined"}, {both}}, 1},
		{[][2]string{{silent}, {both}}, 0},
		{[][2]string{{rightToRight}, {silent}, {both}}, 1},
		{[][2]string{{rightToRight}, {silent, ", left to right"}, {"- starts: open facing, both hands or left to right"}}, 0},
		{[][2]string{{silent + "\n- ends: open facing, right to right"}, {both}}, 1},
		{[][2]string{{silent + "\n- ends: open facing, right to right", ", hammerlock"}, {rightToRight}}, 1},
		{[][2]string{{"- starts: handshake, follower in open facing", ", in closed"}, {closed}, {both}}, 0},
	} {
		var codes []routine.Code
		for _, f := range routine.Objections(routine.Check("lantern.md", handsSheet(test.figures...), shipped())) {
			if f.Code == "join-hands" || f.Code == "end-contradicted" && strings.Contains(f.Message, "hands") {
				codes = append(codes, f.Code)
			}
		}
		assert.Len(t, codes, test.want, "%v", test.figures)
	}
}

// TestAnItemEndsWithHands: the hands that an item says it ends with are held from its last step on.
func TestAnItemEndsWithHands(t *testing.T) {
	text := string(handsSheet([2]string{"- starts: open facing, handshake"}, [2]string{"- starts: open facing, double hand hold"}))
	held := func(text string) (begins, last routine.HandsSet, found []routine.Finding) {
		score, found := routine.Read("lantern.md", []byte(text), shipped())
		require.Len(t, score.Passages, 2)
		p := score.Passages[0]
		return score.Passages[1].Begins.Hands, p.Hands[len(p.Hands)-1], routine.Objections(found)
	}
	_, _, found := held(text)
	require.Len(t, found, 1)
	require.Equal(t, routine.Code("join-hands"), found[0].Code)
	_, setting, _ := strings.Cut(found[0].Hint, "\"")
	setting, _, _ = strings.Cut(setting, "\"")
	begins, last, found := held(strings.Replace(text, "Lantern step\n", "Lantern step\n   "+setting+"\n", 1))
	assert.Empty(t, found)
	assert.Equal(t, "both hands", begins.String())
	assert.Equal(t, "both hands", last.String())
	_, _, found = held(strings.Replace(text, "Lantern step\n", "Lantern step\n   - ends: hammerlock\n", 1))
	require.Len(t, found, 1)
	assert.Equal(t, routine.Code("join-hands"), found[0].Code)
}

// TestHandsLast: what is held after each step of a routine.
func TestHandsLast(t *testing.T) {
	score, _ := routine.Read("lantern.md", handsSheet([2]string{"- starts: open facing, handshake"}, [2]string{"- starts: open facing", ", left to right"}, [2]string{"- starts: open facing"}), shipped())
	require.Len(t, score.Passages, 3)
	var begins []string
	for i := range score.Passages {
		begins = append(begins, score.Passages[i].Begins.Hands.String())
	}
	assert.Equal(t, []string{"hands right to right", "hands right to right", "hands left to right"}, begins)
	assert.Equal(t, []routine.HandsSet{0, 0, 0, 0, 1}, score.Passages[1].Hands)
}

func TestHandsOfAStance(t *testing.T) {
	for text, want := range map[string]string{
		"double hand hold, lady's RF free":                "both hands, follower RF free",
		"open facing, right to right":                     "open facing, hands right to right",
		"left hand to right hand or both hands":           "hands left to right or both hands",
		"crossed hands, left over right":                  "",
		"hands crossed left over right":                   "crossed hands left over right",
		"right shadow, hands on the shoulders":            "right shadow, hands on shoulders",
		"open facing, left to right, leads her to follow": "open facing, hands left to right (leads her to follow)",
		"follower behind left, no hands":                  "tandem follower behind left, no hands",
		"left outside partner":                            "left outside partner",
		"leader left outside partner":                     "left outside partner (leader left outside partner)",
		"man's LF free, gents facing wall":                "leader LF free, facing wall",
	} {
		s, found := routine.ParseStance(text)
		if want == "" {
			assert.NotEmpty(t, found, text)
			continue
		}
		require.Empty(t, found, text)
		assert.Equal(t, want, s.String(), text)
	}
}

// TestEitherFootIsFreeUnderAWeightOnBoth: after a step with the weight on both feet, either may step.
func TestEitherFootIsFreeUnderAWeightOnBoth(t *testing.T) {
	const base = "---\ndance: cha-cha\n---\n\n## Order\n\n1. Lantern step\n\n## Lantern step\n\n| Count | Leader | Follower |\n|---|---|---|\n| 2 | LF side WEIGHT | RF side |\n| 3-4 | FOOT side | LF close |\n| 1 | – | – |\n"
	for _, foot := range []string{"LF", "RF"} {
		src := strings.NewReplacer("WEIGHT", ", weight on both feet", "FOOT", foot).Replace(base)
		assert.Empty(t, routine.Objections(routine.Check("lantern.md", []byte(src), shipped())), foot)
	}
	src := strings.NewReplacer(" WEIGHT", "", "FOOT", "LF").Replace(base)
	found := routine.Check("lantern.md", []byte(src), shipped())
	require.Len(t, found, 1)
	assert.Equal(t, routine.Code("foot-not-free"), found[0].Code)
}
