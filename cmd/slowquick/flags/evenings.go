package flags

import (
	"errors"
	"fmt"
	"time"

	"dance.example/slowquick/cmd/slowquick/outcome"
	"dance.example/slowquick/player/handout"
	"dance.example/slowquick/player/sheets"
	"github.com/spf13/cobra"
)

// Evenings holds the flags of a practice plan.
type Evenings struct {
	from, until, days, at string
	minutes               int
}

// Flags adds the flags of a practice plan.
func (e *Evenings) Flags(cmd *cobra.Command) {
	cmd.Flags().StringVar(&e.until, "until", "", "the last `DATE` of practice, 2026-12-18")
	cmd.Flags().StringVar(&e.from, "from", "", "the first `DATE` of practice; if not given, today")
	cmd.Flags().StringVar(&e.days, "days", "", "practise only on these `DAYS` of the week: mon,thu")
	cmd.Flags().StringVar(&e.at, "at", "19:00", "the `TIME` at which practice begins")
	cmd.Flags().IntVar(&e.minutes, "minutes", 30, "how many `MINUTES` to practise, 1–720")
}

// Practice returns the plan that the flags ask for.
func (e *Evenings) Practice(now time.Time) (p handout.Practice, err error) {
	p.Made, p.From = now, now
	if e.until == "" {
		return p, outcome.Usage(errors.New("name the last day of practice: --until 2026-12-18"))
	}
	if p.Until, err = time.Parse(time.DateOnly, e.until); err != nil {
		return p, outcome.Usage(fmt.Errorf("--until: %q is not a date; write it as 2026-12-18", e.until))
	}
	if e.from != "" {
		if p.From, err = time.Parse(time.DateOnly, e.from); err != nil {
			return p, outcome.Usage(fmt.Errorf("--from: %q is not a date; write it as 2026-12-18", e.from))
		}
	}
	if p.Days, err = handout.ParseDays(e.days); err != nil {
		return p, outcome.Usage(fmt.Errorf("--days: %w", err))
	}
	at, err := time.Parse("15:04", e.at)
	if err != nil {
		return p, outcome.Usage(fmt.Errorf("--at: %q is not a time of day; write it as 19:00", e.at))
	}
	p.At = time.Duration(at.Hour())*time.Hour + time.Duration(at.Minute())*time.Minute
	if e.minutes < 1 || e.minutes > 720 {
		return p, outcome.Usage(fmt.Errorf("--minutes: %d; use 1 to 720", e.minutes))
	}
	p.Length = time.Duration(e.minutes) * time.Minute
	if _, err := p.Evenings(); err != nil {
		return p, outcome.Usage(fmt.Errorf("--until %s: %w", e.until, err))
	}
	return p, nil
}

// Each returns a plan for each sheet, one after the other on the same evenings; none without --until.
func (e *Evenings) Each(list []sheets.Sheet) ([]handout.Practice, error) {
	if e.until == "" {
		return nil, nil
	}
	p, err := e.Practice(time.Now())
	if err != nil {
		return nil, err
	}
	plans, fits := p.InTurn(len(list))
	if !fits {
		return nil, outcome.Usage(fmt.Errorf("--minutes: %d sheets of %d minutes each, from %s on, end after midnight; use fewer minutes or begin earlier", len(list), e.minutes, e.at))
	}
	return plans, nil
}
