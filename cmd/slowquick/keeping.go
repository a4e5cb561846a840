package main

import (
	"encoding/json"
	"sync"
	"time"

	"dance.example/slowquick/library/amalgamation"
	"dance.example/slowquick/player/diary"
	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/player/screen"
	"dance.example/slowquick/routine"
)

// keptDiary is the diary that is kept while the screen is shown. It is opened when
// there is something to keep. It makes a [screen.Diary].
type keptDiary struct {
	mu     sync.Mutex
	opened *diary.Diary // nil until then
	failed error        // the last time
}

// use calls f with the diary; it is opened if it is not, also if that failed before.
func (k *keptDiary) use(f func(*diary.Diary) error) (err error) {
	k.mu.Lock()
	defer k.mu.Unlock()
	defer func() { k.failed = err }()
	if k.opened == nil {
		if k.opened, err = diary.Open(diaryFile()); err != nil {
			k.opened = nil
			return err
		}
	}
	return f(k.opened)
}

// close ends its use and tells what could not be kept in the end.
func (k *keptDiary) close() error {
	k.mu.Lock()
	defer k.mu.Unlock()
	if k.opened != nil {
		if err := k.opened.Close(); err != nil && k.failed == nil {
			k.failed = err
		}
	}
	return k.failed
}

// Begin begins a practice.
func (k *keptDiary) Begin(s *routine.Score) screen.Keeper {
	return &keptPractice{diary: k, sheet: practice.SheetOf(s), began: time.Now()}
}

// keptPractice is one practice. It is a [screen.Keeper].
type keptPractice struct {
	diary *keptDiary
	sheet practice.Sheet
	began time.Time
	now   *diary.Practice // nil until something is kept
}

// Keep keeps a pass.
func (p *keptPractice) Keep(pass practice.Pass) error {
	return p.diary.use(func(d *diary.Diary) error {
		if p.now == nil {
			p.now = d.Begin(p.sheet, p.began)
		}
		return p.now.Keep(pass)
	})
}

// leave keeps how far a session of a sheet is, until it is over.
func (k *keptDiary) leave(sheet practice.Sheet, s practice.Session) error {
	var plan []byte
	if _, more := s.Next(); more {
		var err error
		if plan, err = json.Marshal(s); err != nil {
			return err
		}
	}
	return k.use(func(d *diary.Diary) error { return d.Leave(sheet, plan) })
}

// leftToday is the session of a sheet that was left on the day of a time; ok is
// false if there is none.
func leftToday(sheet practice.Sheet, now time.Time) (s practice.Session, ok bool, err error) {
	d, err := readDiary()
	if err != nil || d == nil {
		return s, false, err
	}
	defer d.Close()
	plan, err := d.Session(sheet)
	if err != nil || plan == nil {
		return s, false, err
	}
	if err := json.Unmarshal(plan, &s); err != nil {
		return s, false, nil // of another version of the program
	}
	return s, practice.DayOf(s.Made.In(now.Location())) == practice.DayOf(now), nil
}

// joins tells which figures can follow which. It is a [practice.Joins].
type joins struct{}

// Follows reports whether a figure can be danced right after another.
func (joins) Follows(d *routine.Dance, first, next *routine.Figure) bool {
	return len(amalgamation.Parted(d, first, next)) == 0
}
