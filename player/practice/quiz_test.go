package practice_test

import (
	"maps"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/library/choreography"
	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/routine"
)

// follows answers by the library's choreography, as the program does.
type follows struct{}

func (follows) WhyNot(d *routine.Dance, first, next *routine.Figure) string {
	return choreography.Joins{}.WhyNot(d, first, next)
}

// TestEveryQuestionHasOneRightAnswer in every example sheet, judged by the sheet itself.
func TestEveryQuestionHasOneRightAnswer(t *testing.T) {
	asked := map[string]int{}
	for _, name := range shipped().Sheets() {
		timeline := sheet(t, name)
		for _, partner := range routine.Partners() {
			q := practice.NewQuiz(timeline.Score, partner, follows{}, 7)
			for range 60 {
				question, ok := q.Ask()
				require.True(t, ok, name)
				kind := strings.Fields(question.Text)[0] + " " + strings.Fields(question.Text)[1]
				asked[kind]++
				assert.GreaterOrEqual(t, len(question.Options), 2)
				assert.LessOrEqual(t, len(question.Options), 4)
				for i, option := range question.Options {
					assert.Equal(t, i == question.Right, right(t, timeline.Score, partner, question, option), "%s: %s %s", name, question.Text, option)
				}
			}
		}
	}
	for _, kind := range []string{"What is", "Which foot", "What comes", "Which of"} {
		assert.Greater(t, asked[kind], 20, kind)
	}
}

// TestAQuestionNumbersFiguresAsTheOrderDoes, and says which time one is danced.
func TestAQuestionNumbersFiguresAsTheOrderDoes(t *testing.T) {
	timeline := read(t, "---\ndance: cha-cha\n---\n## Order\n\n1. Closed basic × 3\n2. Time step\n")
	q := practice.NewQuiz(timeline.Score, routine.Leader, nil, 7)
	seen := map[string]bool{}
	for range 100 {
		question, ok := q.Ask()
		require.True(t, ok)
		_, name, _ := strings.Cut(question.Text, "figure ")
		seen[strings.TrimSuffix(name, "?")] = true
	}
	assert.Subset(t, []string{"1, Closed basic, time 1", "1, Closed basic, time 2", "1, Closed basic, time 3", "2, Time step"}, slices.Collect(maps.Keys(seen)))
	assert.Len(t, seen, 4)
}

// TestAnAnswerSaysWhy, for every option, and shows the steps with the right one marked.
func TestAnAnswerSaysWhy(t *testing.T) {
	for _, name := range shipped().Sheets() {
		timeline := sheet(t, name)
		for _, partner := range routine.Partners() {
			q := practice.NewQuiz(timeline.Score, partner, follows{}, 11)
			for range 40 {
				question, ok := q.Ask()
				require.True(t, ok)
				require.Len(t, question.Why, len(question.Options))
				for i, why := range question.Why {
					assert.Regexp(t, `^[A-Z].*\.$`, why)
					if i != question.Right {
						assert.NotEqual(t, question.Why[question.Right], why)
					}
				}
				asked := slices.IndexFunc(question.Chart, func(l practice.Line) bool { return l.Asked })
				require.GreaterOrEqual(t, asked, 0, question.Text)
				cells := question.Chart[asked].Cells
				switch right := question.Options[question.Right]; {
				case strings.HasPrefix(question.Text, "What is"):
					assert.Contains(t, cells[1+int(partner)], strings.Split(right, ",")[0])
					assert.Contains(t, question.Text, " "+cells[0]+" of figure")
				case strings.HasPrefix(question.Text, "Which foot"):
					assert.Contains(t, question.Why[question.Right], "the "+right)
				default:
					assert.Contains(t, strings.Join(cells, " "), right)
				}
			}
		}
	}
}

// TestWrongAnswersComeBack after three others, until they are answered right.
func TestWrongAnswersComeBack(t *testing.T) {
	timeline := sheet(t, "lantern-night-waltz")
	q := practice.NewQuiz(timeline.Score, routine.Follower, follows{}, 3)
	first, _ := q.Ask()
	assert.False(t, first.Again)
	for range 2 { // wrong, and wrong again
		assert.False(t, q.Answer(first, (first.Right+1)%len(first.Options)))
		assert.Equal(t, 1, q.Missed())
		for range 3 {
			other, ok := q.Ask()
			require.True(t, ok)
			require.NotEqual(t, first.Text, other.Text)
			assert.True(t, q.Answer(other, other.Right))
		}
		back, ok := q.Ask()
		require.True(t, ok)
		assert.True(t, back.Again)
		assert.Equal(t, first.Text, back.Text)
		assert.ElementsMatch(t, first.Options, back.Options)
		assert.Equal(t, first.Options[first.Right], back.Options[back.Right], "the options may stand in another order")
		first = back
	}
	assert.True(t, q.Answer(first, first.Right))
	assert.Zero(t, q.Missed())
	for range 8 {
		other, _ := q.Ask()
		assert.False(t, other.Again)
		q.Answer(other, other.Right)
	}
}

// right reports whether an option is right, by parsing the question's text.
func right(t *testing.T, s *routine.Score, partner routine.Partner, q practice.Question, option string) bool {
	t.Helper()
	p := &s.Passages[q.Passage]
	switch {
	case strings.HasPrefix(q.Text, "What comes after"):
		return s.Passages[q.Passage+1].Figure.Name == option
	case strings.HasPrefix(q.Text, "Which of these"):
		for i := range s.Passages {
			if next := s.Passages[i].Figure; next.Name == option {
				return follows{}.WhyNot(s.Dance, p.Figure, next) == ""
			}
		}
		require.FailNow(t, "not of the sheet", option)
	}
	count := strings.Fields(q.Text[strings.LastIndex(q.Text[:strings.Index(q.Text, " of figure")], " ")+1:])[0]
	nth := 0
	if words := strings.Fields(q.Text[:strings.Index(q.Text, " of figure")]); words[len(words)-3] == "the" {
		nth = slices.Index([]string{"first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth"}, words[len(words)-2])
		require.GreaterOrEqual(t, nth, 0, q.Text)
	}
	for i := p.From; i < p.To; i++ {
		r := &p.Figure.Rows[i]
		if r.Count.String() != count {
			continue
		}
		if nth--; nth >= 0 {
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
	timeline := sheet(t, "lantern-night-cha-cha")
	ask := func(seed uint64) (list []practice.Question) {
		q := practice.NewQuiz(timeline.Score, routine.Leader, follows{}, seed)
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
	_, ok := practice.NewQuiz(&routine.Score{Sheet: routine.Sheet{Dance: sheet(t, "lantern-night-cha-cha").Score.Dance}}, routine.Leader, nil, 1).Ask()
	assert.False(t, ok)
}

// askedOf counts what is asked about: passages, and joins by their first passage.
func askedOf(t *testing.T, q *practice.Quiz, n int) (figures, joins map[int]int) {
	t.Helper()
	figures, joins = map[int]int{}, map[int]int{}
	for range n {
		question, ok := q.Ask()
		require.True(t, ok)
		if strings.HasPrefix(question.Text, "What comes after") {
			joins[question.Passage]++
		} else {
			figures[question.Passage]++
		}
	}
	return figures, joins
}

// TestWhatIsShakyIsAskedMost, by one partner's marks: a figure and a join.
func TestWhatIsShakyIsAskedMost(t *testing.T) {
	timeline := sheet(t, "lantern-night-waltz")
	var passes []practice.Kept
	for day := range 3 {
		p := danced(timeline, evening(day), whole(timeline), 100)
		p.Marks = []practice.Mark{{Place: 2, Partner: routine.Leader}, {Place: 5, Join: true, Partner: routine.Leader}}
		passes = append(passes, p)
	}
	past, today := practice.NewHistory(timeline.Score, passes, time.UTC), practice.DayOf(evening(3))
	quiz := func(partner routine.Partner, favour bool) *practice.Quiz {
		q := practice.NewQuiz(timeline.Score, partner, follows{}, 3)
		if favour {
			q.Favour(past, today)
		}
		return q
	}
	const n = 3000
	even, evenJoins := askedOf(t, quiz(routine.Leader, false), n)
	figures, joins := askedOf(t, quiz(routine.Leader, true), n)
	assert.Greater(t, even[3], n/50)
	assert.Greater(t, figures[2], 2*even[2], "the Whisk")
	assert.Greater(t, figures[2], 3*figures[3], "the Chassé from promenade")
	assert.Greater(t, joins[4], 2*evenJoins[4], "the first natural turn into what follows")
	assert.Greater(t, joins[4], 3*joins[3])
	assert.Len(t, figures, len(even), "the rest is asked as well")

	sure, _ := askedOf(t, quiz(routine.Follower, true), n)
	assert.InDelta(t, even[2], sure[2], float64(even[2])/5, "the follower marked nothing")
}

func TestASeedAsksTheSameOfWhatIsShaky(t *testing.T) {
	timeline := read(t, boathouse)
	past := practice.NewHistory(timeline.Score, []practice.Kept{danced(timeline, evening(0), whole(timeline), 100, bothMark(1, false)...)}, time.UTC)
	ask := func(seed uint64) (list []practice.Question) {
		q := practice.NewQuiz(timeline.Score, routine.Leader, follows{}, seed)
		q.Favour(past, practice.DayOf(evening(1)))
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

// TestEveryFigureIsAskedAbout, even if its bars have the same counts.
func TestEveryFigureIsAskedAbout(t *testing.T) {
	timeline := sheet(t, "lantern-night-cha-cha")
	figures, _ := askedOf(t, practice.NewQuiz(timeline.Score, routine.Leader, nil, 5), 1000)
	assert.Len(t, figures, len(timeline.Score.Passages))
}
