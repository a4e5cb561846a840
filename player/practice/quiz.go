package practice

import (
	"fmt"
	"math/rand/v2"
	"slices"

	"dance.example/slowquick/routine"
)

// Joins says which figures can follow which.
type Joins interface {
	// Follows reports whether next can be danced right after first.
	Follows(d *routine.Dance, first, next *routine.Figure) bool
}

// Question is a question about a sheet. Exactly one of its options, which all differ, is right.
type Question struct {
	Text    string
	Options []string // from 2 to mostOptions
	Right   int      // an index of Options
	Passage int      // the passage it asks about
}

const mostOptions = 4

// Quiz asks about a sheet, for one partner. The same seed asks the same questions.
type Quiz struct {
	score   *routine.Score
	partner routine.Partner
	joins   Joins
	chance  *rand.Rand

	// How often each passage, and each join to the next, is asked about; nil if all alike.
	figureWeights, joinWeights []float64
}

// NewQuiz returns a quiz. If joins is nil it does not ask which figures can follow.
func NewQuiz(s *routine.Score, partner routine.Partner, joins Joins, seed uint64) *Quiz {
	return &Quiz{score: s, partner: partner, joins: joins, chance: rand.New(rand.NewPCG(seed, 0))}
}

// How much is added to the weight 1 of what is known well (our own choice): for what went wrong lately,
// and for what is surely forgotten.
const shakyWeight, forgottenWeight = 6, 2

// Favour asks most about what is shaky, or likely forgotten on a day, by the partner's records.
func (q *Quiz) Favour(past *History, d Day) {
	weight := func(p Piece) float64 {
		r := past.Of(p, q.partner)
		w := 1 + forgottenWeight*(1-r.Recall(d))
		if r.Shaky() {
			w += shakyWeight
		}
		return w
	}
	q.figureWeights, q.joinWeights = nil, nil
	var before Figure
	for i := range q.score.Passages {
		fig := FigureOf(q.score.Dance, q.score.Passages[i].Figure)
		if i > 0 {
			q.joinWeights = append(q.joinWeights, weight(Piece{before, fig}))
		}
		q.figureWeights = append(q.figureWeights, weight(Piece{Figure: fig}))
		before = fig
	}
}

// pick returns a random index below n, by weight.
func (q *Quiz) pick(n int, weights []float64) int {
	if len(weights) != n {
		return q.chance.IntN(n)
	}
	sum := 0.0
	for _, w := range weights {
		sum += w
	}
	at := q.chance.Float64() * sum
	for i, w := range weights {
		if at -= w; at < 0 {
			return i
		}
	}
	return n - 1
}

// figure picks a passage to ask about.
func (q *Quiz) figure() int { return q.pick(len(q.score.Passages), q.figureWeights) }

// join picks a passage to ask what comes next; in a sheet of one passage, that one.
func (q *Quiz) join() int { return q.pick(max(len(q.score.Passages)-1, 1), q.joinWeights) }

// mostTries is how many times Ask looks for a question: a sheet may have figures that allow few.
const mostTries = 200

// Ask returns a question; ok is false if the sheet is too small to ask about.
func (q *Quiz) Ask() (asked Question, ok bool) {
	if len(q.score.Passages) == 0 {
		return Question{}, false
	}
	kinds := []func() (Question, bool){
		func() (Question, bool) { return q.step(q.figure()) },
		func() (Question, bool) { return q.freeFoot(q.figure()) },
		func() (Question, bool) { return q.comesNext(q.join()) },
	}
	if q.joins != nil {
		kinds = append(kinds, func() (Question, bool) { return q.canFollow(q.figure()) })
	}
	for range mostTries {
		if asked, ok = kinds[q.chance.IntN(len(kinds))](); ok {
			return asked, true
		}
	}
	return Question{}, false
}

// question mixes a right answer with wrong ones; ok is false if there are none.
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

// times say which of several rows with the same count is meant.
var times = [...]string{"first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth"}

// row picks a row of a passage on which the partner has a step and which can be named; ok is false if
// there is none.
func (q *Quiz) row(p *routine.Passage) (row int, ok bool) {
	var rows []int
	for i := p.From; i < p.To; i++ {
		r := &p.Figure.Rows[i]
		if nth, _ := sameCount(p, i); nth < len(times) && r.Written[q.partner] && !r.Steps[q.partner].Stands() {
			rows = append(rows, i)
		}
	}
	if len(rows) == 0 {
		return 0, false
	}
	return rows[q.chance.IntN(len(rows))], true
}

// sameCount returns how many rows of a passage have the same count as row, before it and in all.
func sameCount(p *routine.Passage, row int) (before, all int) {
	for i := p.From; i < p.To; i++ {
		if p.Figure.Rows[i].Count != p.Figure.Rows[row].Count {
			continue
		}
		all++
		if i < row {
			before++
		}
	}
	return before, all
}

// where names a count of a passage: "4 of figure 3, New York", or "the second 4 of …" if there are
// several.
func (q *Quiz) where(passage, row int) string {
	p := &q.score.Passages[passage]
	name := fmt.Sprintf("%s of %s", p.Figure.Rows[row].Count, q.nth(passage))
	if before, all := sameCount(p, row); all > 1 {
		name = "the " + times[before] + " " + name
	}
	return name
}

// nth names a passage by its place in the order, as the screen does: "figure 3, Time step, time 2".
func (q *Quiz) nth(passage int) string {
	p := &q.score.Passages[passage]
	name := fmt.Sprintf("figure %d, %s", p.Item+1, p.Figure.Name)
	if q.score.Items[p.Item].Times > 1 {
		name += fmt.Sprintf(", time %d", p.Round+1)
	}
	return name
}

// stepText returns a step as an answer: the foot, where it goes and how it turns.
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

// freeFoot asks for the foot that is free after a step with all weight on one foot.
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

// canFollow asks which of the sheet's figures can follow a passage's figure, danced whole.
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
