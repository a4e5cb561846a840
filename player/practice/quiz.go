package practice

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"

	"dance.example/slowquick/routine"
)

// Joins says which figures can follow which.
type Joins interface {
	// WhyNot returns why next can't be danced right after first; "" if it can.
	WhyNot(d *routine.Dance, first, next *routine.Figure) string
}

const mostOptions = 4

// Quiz asks about a sheet, for one partner. The same seed asks the same questions.
type Quiz struct {
	score   *routine.Score
	partner routine.Partner
	joins   Joins
	chance  *rand.Rand
	missed  missed

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
	for i, fig := range figuresOf(q.score) {
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

// Ask returns a question, and now and then one that was answered wrong before; ok is false if the sheet is
// too small to ask about.
func (q *Quiz) Ask() (asked Question, ok bool) {
	if asked, ok = q.missed.due(); ok {
		return q.mixed(asked), true
	}
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

// option is an answer, and why it is right or wrong.
type option struct{ text, why string }

// question mixes a right answer with wrong ones; ok is false if there are none.
func (q *Quiz) question(passage int, text string, right option, wrong []option, chart []Line) (Question, bool) {
	slices.SortStableFunc(wrong, func(a, b option) int { return strings.Compare(a.text, b.text) })
	wrong = slices.CompactFunc(wrong, func(a, b option) bool { return a.text == b.text })
	wrong = slices.DeleteFunc(wrong, func(o option) bool { return o.text == right.text })
	if len(wrong) == 0 {
		return Question{}, false
	}
	q.chance.Shuffle(len(wrong), func(i, j int) { wrong[i], wrong[j] = wrong[j], wrong[i] })
	asked := Question{Text: text, Passage: passage, Chart: chart}
	for _, o := range append([]option{right}, wrong[:min(len(wrong), mostOptions-1)]...) {
		asked.Options, asked.Why = append(asked.Options, o.text), append(asked.Why, o.why)
	}
	return q.mixed(asked), true
}

// mixed returns a question with its options in another order.
func (q *Quiz) mixed(asked Question) Question {
	right := asked.Options[asked.Right]
	options, why := slices.Clone(asked.Options), slices.Clone(asked.Why)
	q.chance.Shuffle(len(options), func(i, j int) {
		options[i], options[j] = options[j], options[i]
		why[i], why[j] = why[j], why[i]
	})
	asked.Options, asked.Why, asked.Right = options, why, slices.Index(options, right)
	return asked
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
	return q.count(&q.score.Passages[passage], row) + " of " + q.nth(passage)
}

// count names a row of a passage by its count: "4", or "the second 4" if there are several.
func (q *Quiz) count(p *routine.Passage, row int) string {
	name := p.Figure.Rows[row].Count.String()
	if before, all := sameCount(p, row); all > 1 && before < len(times) {
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
	if turn := s.After.String(); turn != "" {
		text += ", " + turn + " after"
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
	s := &p.Figure.Rows[row].Steps[q.partner]
	var others []option
	add := func(fig *routine.Figure, r int, where string) {
		if other := &fig.Rows[r].Steps[q.partner]; !other.Stands() {
			text := stepText(other)
			others = append(others, option{text, fmt.Sprintf("%s comes on %s%s.", text, fig.Rows[r].Count, where)})
		}
	}
	for r := p.From; r < p.To; r++ { // first, as the same step of another figure tells less
		add(p.Figure, r, " of this figure")
	}
	for i := range q.score.Passages {
		for r := range q.score.Passages[i].Figure.Rows {
			add(q.score.Passages[i].Figure, r, " of "+q.score.Passages[i].Figure.Name)
		}
	}
	right := option{stepText(s), fmt.Sprintf("On %s the %s dances %s%s.", q.count(p, row), q.partner, stepText(s), q.because(p, row))}
	return q.question(passage, fmt.Sprintf("What is the %s's step on %s?", q.partner, q.where(passage, row)), right, others, chart(p, row))
}

// because says why the foot of a step is free for it: ", as …"; "" if the passage doesn't tell.
func (q *Quiz) because(p *routine.Passage, row int) string {
	s := &p.Figure.Rows[row].Steps[q.partner]
	for r := row - 1; r >= p.From; r-- {
		before := &p.Figure.Rows[r].Steps[q.partner]
		switch {
		case before.Stands() || !p.Figure.Rows[r].Written[q.partner]:
			continue
		case before.Moves() && before.Weight == routine.Full && before.Foot != s.Foot:
			return fmt.Sprintf(", as the weight is on the %s since %s", before.Foot, q.count(p, r))
		case !before.Moves() && before.Foot == s.Foot && !before.Pivots():
			return fmt.Sprintf(", as the %s took no weight on %s", before.Foot, q.count(p, r))
		}
		return ""
	}
	return ""
}

// freeFoot asks for the foot that is free after a step with all weight on one foot.
func (q *Quiz) freeFoot(passage int) (Question, bool) {
	p := &q.score.Passages[passage]
	row, ok := q.row(p)
	if !ok {
		return Question{}, false
	}
	s := &p.Figure.Rows[row].Steps[q.partner]
	if s.Weight != routine.Full && s.Weight != routine.None || s.Pivots() {
		return Question{}, false
	}
	free, why := s.Foot, "takes no weight, so its foot stays free: the "+s.Foot.String()
	if s.Moves() {
		free = s.Foot.Other()
		why = fmt.Sprintf("takes the weight onto the %s, so the %s is free", s.Foot, free)
	}
	right := option{free.String(), fmt.Sprintf("%s %s on %s %s.", s.Foot, s.Where(), q.count(p, row), why)}
	wrong := []option{{free.Other().String(), fmt.Sprintf("The %s bears the weight.", free.Other())}}
	return q.question(passage, fmt.Sprintf("Which foot of the %s is free after %s?", q.partner, q.where(passage, row)), right, wrong, chart(p, row))
}

// comesNext asks for the figure that the sheet dances next.
func (q *Quiz) comesNext(passage int) (Question, bool) {
	if passage+1 >= len(q.score.Passages) {
		return Question{}, false
	}
	p, next := &q.score.Passages[passage], &q.score.Passages[passage+1]
	why := fmt.Sprintf("%s is figure %d of the order, right after %s.", next.Figure.Name, next.Item+1, p.Figure.Name)
	if next.Item == p.Item {
		why = fmt.Sprintf("%s is danced %s; this was the %s time.", p.Figure.Name, routine.Plural(q.score.Items[p.Item].Times, "time"), routine.Ordinal(p.Round+1))
	}
	var others []option
	for i := range q.score.Items {
		item := &q.score.Items[i]
		others = append(others, option{item.Figure.Name, fmt.Sprintf("%s is figure %d of the order.", item.Figure.Name, i+1)})
	}
	return q.question(passage, "What comes after "+q.nth(passage)+"?", option{next.Figure.Name, why}, others, order(q.score, next.Item))
}

// canFollow asks which of the sheet's figures can follow a passage's figure, danced whole.
func (q *Quiz) canFollow(passage int) (Question, bool) {
	first := q.score.Passages[passage].Figure
	seen := map[string]bool{}
	var can []*routine.Figure
	var others []option
	for i := range q.score.Passages {
		next := q.score.Passages[i].Figure
		if seen[next.Name] {
			continue
		}
		seen[next.Name] = true
		if why := q.joins.WhyNot(q.score.Dance, first, next); why != "" {
			others = append(others, option{next.Name, fmt.Sprintf("%s can't: %s.", next.Name, why)})
		} else {
			can = append(can, next)
		}
	}
	if len(can) == 0 {
		return Question{}, false
	}
	next := can[q.chance.IntN(len(can))]
	right := option{next.Name, fmt.Sprintf("%s begins with the feet, the hold and the direction in which %s ends.", next.Name, first.Name)}
	return q.question(passage, "Which of these can follow "+first.Name+"?", right, others, joinChart(first, next))
}

// Answer takes in which option was chosen, and reports whether that is right. A question that was answered
// wrong comes back until it is answered right.
func (q *Quiz) Answer(asked Question, chosen int) bool {
	right := chosen == asked.Right
	q.missed.answered(asked, right)
	return right
}

// Missed returns how many questions are still to come back.
func (q *Quiz) Missed() int { return len(q.missed) }
