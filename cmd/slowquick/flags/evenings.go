package flags

import (
	"errors"
	"fmt"
	"os"
	"strconv"
	"time"

	"dance.example/slowquick/cmd/slowquick/outcome"
	"dance.example/slowquick/player/handout"
	"dance.example/slowquick/player/sheets"
	"github.com/spf13/cobra"
)

// Evenings holds the flags of a practice plan.
type Evenings struct {
	from, until, days, at string
	minutes, remind       int
}

// Flags adds the flags of a practice plan.
func (e *Evenings) Flags(cmd *cobra.Command) {
	cmd.Flags().StringVar(&e.until, "until", "", "the last `DATE` of practice, 2026-12-18")
	cmd.Flags().StringVar(&e.from, "from", "", "the first `DATE` of practice; if not given, today")
	cmd.Flags().StringVar(&e.days, "days", "", "practise only on these `DAYS` of the week: mon,thu")
	cmd.Flags().StringVar(&e.at, "at", "19:00", "the `TIME` at which practice begins")
	cmd.Flags().IntVar(&e.minutes, "minutes", 30, "how many `MINUTES` to practise, 1–720")
	cmd.Flags().IntVar(&e.remind, "remind", 30, "remind this many `MINUTES` before practice, up to 1440; 0 for not at all")
}

// Practice returns the plan that the flags ask for.
func (e *Evenings) Practice(now time.Time) (p handout.Practice, err error) {
	p.From = now
	if p.Made, err = stamp(now); err != nil {
		return p, err
	}
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
	if e.remind < 0 || e.remind > 1440 {
		return p, outcome.Usage(fmt.Errorf("--remind: %d; use 0 to 1440", e.remind))
	}
	p.Remind = time.Duration(e.remind) * time.Minute
	if _, err := p.Evenings(); err != nil {
		return p, outcome.Usage(fmt.Errorf("--until %s: %w", e.until, err))
	}
	return p, nil
}

// stamp returns the time that a file says it was made: now, or that of the variable with which builds
// are made to be the same each time.
//
// Source: reproducible-builds.org, SOURCE_DATE_EPOCH Specification 1.1.
func stamp(now time.Time) (time.Time, error) {
	text := os.Getenv("SOURCE_DATE_EPOCH")
	if text == "" {
		return now, nil
	}
	seconds, err := strconv.ParseInt(text, 10, 64)
	if err != nil || seconds < 0 || seconds > time.Date(9999, 12, 31, 0, 0, 0, 0, time.UTC).Unix() {
		return now, outcome.Usage(fmt.Errorf("SOURCE_DATE_EPOCH: %q is not a number of seconds since 1970", text))
	}
	return time.Unix(seconds, 0), nil
}

// Asked reports whether a plan is asked for.
func (e *Evenings) Asked() bool { return e.until != "" }

// Each returns a plan for each sheet, one after the other on the same evenings.
func (e *Evenings) Each(list []sheets.Sheet) ([]handout.Practice, error) {
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
