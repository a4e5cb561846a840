package practice_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/library"
	"dance.example/slowquick/library/amalgamation"
	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/routine"
)

// follows asks the amalgamations, as the program does.
type follows struct{}

func (follows) Follows(d *routine.Dance, first, next *routine.Figure) bool {
	return len(amalgamation.Parted(d, first, next)) == 0
}

// TestEveryQuestionHasOneRightAnswer, of every example sheet, by the sheet itself.
func TestEveryQuestionHasOneRightAnswer(t *testing.T) {
	asked := map[string]int{}
	for _, name := range library.Open().Sheets() {
		line := sheet(t, name)
		for _, partner := range routine.Partners() {
			q := practice.NewQuiz(line.Score, partner, follows{}, 7)
			for range 60 {
				question, ok := q.Ask()
				require.True(t, ok, name)
				kind := strings.Fields(question.Text)[0] + " " + strings.Fields(question.Text)[1]
				asked[kind]++
				assert.GreaterOrEqual(t, len(question.Options), 2)
				assert.LessOrEqual(t, len(question.Options), 4)
				for i, option := range question.Options {
					assert.Equal(t, i == question.Right, right(t, line.Score, partner, question, option), "%s: %s %s", name, question.Text, option)
				}
			}
		}
	}
	for _, kind := range []string{"What is", "Which foot", "What comes", "Which of"} {
		assert.Greater(t, asked[kind], 20, kind)
	}
}

// right answers a question by reading it again, in the words in which it is asked.
func right(t *testing.T, s *routine.Score, partner routine.Partner, q practice.Question, option string) bool {
	t.Helper()
	p := &s.Passages[q.Passage]
	switch {
	case strings.HasPrefix(q.Text, "What comes after"):
		return s.Passages[q.Passage+1].Figure.Name == option
	case strings.HasPrefix(q.Text, "Which of these"):
		for i := range s.Passages {
			if next := s.Passages[i].Figure; next.Name == option {
				return follows{}.Follows(s.Dance, p.Figure, next)
			}
		}
		require.FailNow(t, "not of the sheet", option)
	}
	count := strings.Fields(q.Text[strings.LastIndex(q.Text[:strings.Index(q.Text, " of figure")], " ")+1:])[0]
	for i := p.From; i < p.To; i++ {
		r := &p.Figure.Rows[i]
		if r.Count.String() != count {
			continue
		}
		step := &r.Steps[partner]
		if strings.HasPrefix(q.Text, "Which foot") {
			return (option == step.Foot.String()) != step.Moves()
		}
		chart := step.String()
		for part := range strings.SplitSeq(option, ", ") { // the foot and where it goes, then the turn
			if !strings.Contains(chart, part) {
				return false
			}
		}
		return strings.HasPrefix(chart, strings.Split(option, ", ")[0]) && strings.Contains(option, step.Turn.String()) &&
			strings.Split(option, ", ")[0] == step.Foot.String()+" "+step.Where()
	}
	require.FailNow(t, "no such count", q.Text)
	return false
}

func TestASeedAsksTheSameAgain(t *testing.T) {
	line := sheet(t, "lantern-night-cha-cha")
	ask := func(seed uint64) (list []practice.Question) {
		q := practice.NewQuiz(line.Score, routine.Leader, follows{}, seed)
		for range 10 {
			question, ok := q.Ask()
			require.True(t, ok)
			list = append(list, question)
		}
		return list
	}
	assert.Equal(t, ask(1), ask(1))
	assert.NotEqual(t, ask(1), ask(2))
}

func TestASheetTooSmallToAskAbout(t *testing.T) {
	_, ok := practice.NewQuiz(&routine.Score{Dance: sheet(t, "lantern-night-cha-cha").Score.Dance}, routine.Leader, nil, 1).Ask()
	assert.False(t, ok)
}
