package practice

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strconv"

	"dance.example/slowquick/routine"
)

// Joins tells which figures can follow which.
type Joins interface {
	// Follows reports whether a figure of a dance can be danced right after another.
	Follows(d *routine.Dance, first, next *routine.Figure) bool
}

// Question is asked of a sheet. Its right answer is one of the options, of which
// no two are alike and no other is right.
type Question struct {
	Text    string
	Options []string // from 2 to mostOptions
	Right   int      // an index of Options
	Passage int      // what it asks about
}

const mostOptions = 4

// Quiz asks about a sheet, for one partner. The same seed asks the same questions.
type Quiz struct {
	score   *routine.Score
	partner routine.Partner
	joins   Joins
	chance  *rand.Rand
}

// NewQuiz makes a quiz; without joins it does not ask what can follow.
func NewQuiz(s *routine.Score, partner routine.Partner, joins Joins, seed uint64) *Quiz {
	return &Quiz{score: s, partner: partner, joins: joins, chance: rand.New(rand.NewPCG(seed, 0))}
}

// mostTries is how often a question is looked for: a sheet may have figures of
// which little can be asked.
const mostTries = 200

// Ask gives a question; ok is false if the sheet is too small to ask about.
func (q *Quiz) Ask() (asked Question, ok bool) {
	if len(q.score.Passages) == 0 {
		return Question{}, false
	}
	kinds := []func(int) (Question, bool){q.step, q.freeFoot, q.comesNext}
	if q.joins != nil {
		kinds = append(kinds, q.canFollow)
	}
	for range mostTries {
		ask := kinds[q.chance.IntN(len(kinds))]
		if asked, ok = ask(q.chance.IntN(len(q.score.Passages))); ok {
			return asked, true
		}
	}
	return Question{}, false
}

// question mixes a right answer with wrong ones; ok is false without a wrong one.
func (q *Quiz) question(passage int, text, right string, wrong []string) (Question, bool) {
	wrong = slices.DeleteFunc(slices.Compact(slices.Sorted(slices.Values(wrong))), func(w string) bool { return w == right })
	if len(wrong) == 0 {
		return Question{}, false
	}
	q.chance.Shuffle(len(wrong), func(i, j int) { wrong[i], wrong[j] = wrong[j], wrong[i] })
	options := append([]string{right}, wrong[:min(len(wrong), mostOptions-1)]...)
	q.chance.Shuffle(len(options), func(i, j int) { options[i], options[j] = options[j], options[i] })
	return Question{Text: text, Options: options, Right: slices.Index(options, right), Passage: passage}, true
}

// row picks a row of a passage on which the partner has a step of their own and
// which the count names alone; ok is false if there is none.
func (q *Quiz) row(p *routine.Passage) (row int, ok bool) {
	var rows []int
	for i := p.From; i < p.To; i++ {
		r := &p.Figure.Rows[i]
		same := func(o routine.Row) bool { return o.Count == r.Count }
		if r.Written[q.partner] && !r.Steps[q.partner].Stands() && count(p.Figure.Rows[p.From:p.To], same) == 1 {
			rows = append(rows, i)
		}
	}
	if len(rows) == 0 {
		return 0, false
	}
	return rows[q.chance.IntN(len(rows))], true
}

func count[T any](list []T, is func(T) bool) (n int) {
	for _, x := range list {
		if is(x) {
			n++
		}
	}
	return n
}

// where names a count of a passage: "4 of figure 3, New York".
func (q *Quiz) where(passage, row int) string {
	p := &q.score.Passages[passage]
	return fmt.Sprintf("%s of %s", p.Figure.Rows[row].Count, q.nth(passage))
}

// nth names a passage by its place in the order: "figure 3, Time step".
func (q *Quiz) nth(passage int) string {
	return "figure " + strconv.Itoa(passage+1) + ", " + q.score.Passages[passage].Figure.Name
}

// stepText is a step as an answer: the foot, where it goes and how it turns.
func stepText(s *routine.Step) string {
	text := s.Foot.String() + " " + s.Where()
	if turn := s.Turn.String(); turn != "" {
		text += ", " + turn
	}
	return text
}

// step asks for the step on a count.
func (q *Quiz) step(passage int) (Question, bool) {
	p := &q.score.Passages[passage]
	row, ok := q.row(p)
	if !ok {
		return Question{}, false
	}
	var others []string
	for i := range q.score.Passages {
		for r := range q.score.Passages[i].Figure.Rows {
			if s := &q.score.Passages[i].Figure.Rows[r].Steps[q.partner]; !s.Stands() {
				others = append(others, stepText(s))
			}
		}
	}
	text := fmt.Sprintf("What is the %s's step on %s?", q.partner, q.where(passage, row))
	return q.question(passage, text, stepText(&p.Figure.Rows[row].Steps[q.partner]), others)
}

// freeFoot asks for the foot that is free after a step on which all weight is on one.
func (q *Quiz) freeFoot(passage int) (Question, bool) {
	p := &q.score.Passages[passage]
	row, ok := q.row(p)
	if !ok {
		return Question{}, false
	}
	s := &p.Figure.Rows[row].Steps[q.partner]
	if s.Weight == routine.Part || s.Pivots() {
		return Question{}, false
	}
	free := s.Foot
	if s.Moves() {
		free = s.Foot.Other()
	}
	text := fmt.Sprintf("Which foot of the %s is free after %s?", q.partner, q.where(passage, row))
	return q.question(passage, text, free.String(), []string{free.Other().String()})
}

// comesNext asks for the figure that the sheet dances next.
func (q *Quiz) comesNext(passage int) (Question, bool) {
	if passage+1 >= len(q.score.Passages) {
		return Question{}, false
	}
	var others []string
	for i := range q.score.Passages {
		others = append(others, q.score.Passages[i].Figure.Name)
	}
	return q.question(passage, "What comes after "+q.nth(passage)+"?", q.score.Passages[passage+1].Figure.Name, others)
}

// canFollow asks which of the sheet's figures can follow one, danced whole.
func (q *Quiz) canFollow(passage int) (Question, bool) {
	first := q.score.Passages[passage].Figure
	var can, others []string
	for i := range q.score.Passages {
		next := q.score.Passages[i].Figure
		if slices.Contains(can, next.Name) || slices.Contains(others, next.Name) {
			continue
		}
		if q.joins.Follows(q.score.Dance, first, next) {
			can = append(can, next.Name)
		} else {
			others = append(others, next.Name)
		}
	}
	if len(can) == 0 {
		return Question{}, false
	}
	return q.question(passage, "Which of these can follow "+first.Name+"?", can[q.chance.IntN(len(can))], others)
}
