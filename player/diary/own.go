package diary

import (
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"time"

	"github.com/adrg/xdg"

	"dance.example/slowquick/player"
	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/player/store"
	"dance.example/slowquick/routine"
)

// File returns where the dancer's own diary is kept.
func File() string { return filepath.Join(xdg.StateHome, "slowquick", "diary.db") }

// ReadOwn opens the dancer's own diary for reading. It is nil if nothing has been kept yet.
func ReadOwn() (*Diary, error) {
	err := store.Plain(File())
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, fmt.Errorf("read the diary: %w", err)
	}
	return Read(File())
}

// History returns what the dancer's own diary knows of a routine. It calls tell if that can't be
// read, and then returns what can.
func History(s *routine.Score, zone *time.Location, tell func(error)) *practice.History {
	var passes []practice.Kept
	d, err := ReadOwn()
	if err == nil && d != nil {
		defer d.Close()
		passes, err = d.Passes(s.Dance.Name)
	}
	if err != nil {
		tell(err)
	}
	return practice.NewHistory(s, passes, zone)
}

// Past is what the dancer's own diary knows of all routines.
type Past struct {
	passes map[string][]practice.Kept // by dance, in order of time
	sheets map[practice.Sheet]bool    // without their order
}

// ReadPast reads the dancer's own diary once. It calls tell if that can't be read, and then returns what can.
func ReadPast(tell func(error)) Past {
	p := Past{map[string][]practice.Kept{}, map[practice.Sheet]bool{}}
	d, err := ReadOwn()
	if err != nil {
		tell(err)
	}
	if d == nil {
		return p
	}
	defer d.Close()
	for e, err := range d.Entries("") {
		if err != nil {
			tell(err)
			break
		}
		p.passes[e.Sheet.Dance] = append(p.passes[e.Sheet.Dance], e.Kept)
		p.sheets[practice.Sheet{Dance: e.Sheet.Dance, Title: e.Sheet.Title}] = true
	}
	return p
}

// Of returns what is known of a routine; days change at midnight in zone.
func (p Past) Of(s *routine.Score, zone *time.Location) *practice.History {
	return practice.NewHistory(s, p.passes[s.Dance.Name], zone)
}

// Has reports whether a sheet with the dance and the title of s was danced, and not only its figures.
func (p Past) Has(s *routine.Score) bool {
	return p.sheets[practice.Sheet{Dance: s.Dance.Name, Title: s.Title}]
}

// LeftToday returns the session of a routine that was left earlier on the day of now. Ok is false
// if there is none.
func LeftToday(timeline *player.Timeline, now time.Time) (s practice.Session, ok bool, err error) {
	d, err := ReadOwn()
	if err != nil || d == nil {
		return s, false, err
	}
	defer d.Close()
	plan, err := d.Session(practice.SheetOf(timeline.Score))
	if err != nil || plan == nil {
		return s, false, err
	}
	if err := json.Unmarshal(plan, &s); err != nil {
		return s, false, nil // another version of the program left it
	}
	if !s.Fits(timeline) {
		return s, false, errors.New("the session left earlier can't be danced, as the diary is damaged; planning a new one")
	}
	return s, practice.DayOf(s.Made.In(now.Location())) == practice.DayOf(now), nil
}
