package main

import (
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"sync"
	"time"

	"dance.example/slowquick/player"
	"dance.example/slowquick/player/diary"
	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/player/screen"
	"dance.example/slowquick/player/store"
	"dance.example/slowquick/routine"
)

// keptDiary is the diary that is kept while one dances. Whoever dances never waits for it: it
// is written by a goroutine of its own, and what can't be written yet, as another program is
// writing or the disk is full, waits until it can. It makes a [screen.Diary].
type keptDiary struct {
	path    string
	wake    chan struct{} // that something waits
	leaving chan struct{} // closed when all is to be written
	over    chan struct{} // closed when all is written, or can't be

	mu      sync.Mutex
	waiting []func(*diary.Diary) error // in order
	problem error                      // why the last that was tried could not be written; nil if it was
}

// How long the diary of a program waits at a time for another that is writing, until it tries
// again, and how long the end of the program waits for it.
const (
	shortWait = 300 * time.Millisecond
	tryAgain  = 200 * time.Millisecond
	lastWait  = 3 * time.Second
)

// keepDiary begins to keep a diary. The file is opened, or made, when there is something to keep.
func keepDiary(path string) *keptDiary {
	k := &keptDiary{path: path, wake: make(chan struct{}, 1), leaving: make(chan struct{}), over: make(chan struct{})}
	go k.work()
	return k
}

// Begin begins a practice.
func (k *keptDiary) Begin(s *routine.Score) screen.Keeper {
	return &keptPractice{diary: k, sheet: practice.SheetOf(s), began: time.Now()}
}

// Status says in plain words why nothing is being kept; "" if all is well.
func (k *keptDiary) Status() string {
	if err := k.why(); err != nil {
		return err.Error()
	}
	return ""
}

// keptPractice is one practice. It is a [screen.Keeper].
type keptPractice struct {
	diary *keptDiary
	sheet practice.Sheet
	began time.Time
	now   *diary.Practice // nil until something is kept
}

// Keep keeps a pass.
func (p *keptPractice) Keep(pass practice.Kept) {
	p.diary.write(func(d *diary.Diary) error {
		if p.now == nil {
			p.now = d.Begin(p.sheet, p.began)
		}
		return p.now.Keep(pass)
	})
}

// leave keeps how far a session of a sheet is, until it is over.
func (k *keptDiary) leave(sheet practice.Sheet, s practice.Session) {
	var plan []byte
	if _, more := s.Next(); more {
		var err error
		if plan, err = json.Marshal(s); err != nil {
			k.tell(err)
			return
		}
	}
	k.write(func(d *diary.Diary) error { return d.Leave(sheet, plan) })
}

// write has f write into the diary, after all that waits.
func (k *keptDiary) write(f func(*diary.Diary) error) {
	k.mu.Lock()
	k.waiting = append(k.waiting, f)
	k.mu.Unlock()
	select {
	case k.wake <- struct{}{}:
	default: // it is awake
	}
}

// work writes what waits, until the program ends.
func (k *keptDiary) work() {
	defer close(k.over)
	var d *diary.Diary // nil until there is something to keep
	leaving, left := k.leaving, false
	for {
		err := k.writeAll(&d)
		var again <-chan time.Time
		if errors.Is(err, diary.ErrBusy) {
			again = time.After(tryAgain)
		} else if left {
			break
		}
		select {
		case <-k.wake:
		case <-again:
		case <-leaving:
			leaving, left = nil, true
		}
	}
	if d != nil {
		if err := d.Close(); err != nil {
			k.tell(err)
		}
	}
}

// writeAll writes what waits, in order. What can't be written goes on waiting.
func (k *keptDiary) writeAll(d **diary.Diary) (err error) {
	k.mu.Lock()
	list := k.waiting
	k.waiting = nil
	k.mu.Unlock()
	if len(list) == 0 {
		return nil
	}
	if *d == nil {
		if err = store.Plain(k.path); err != nil && !errors.Is(err, fs.ErrNotExist) {
			err = &diary.NotKept{Path: k.path, Err: err}
		} else {
			*d, err = diary.OpenWithin(k.path, shortWait)
		}
	}
	var unwritten []func(*diary.Diary) error
	if err != nil {
		*d, unwritten = nil, list
	}
	for i := 0; i < len(list) && unwritten == nil; i++ {
		switch e := list[i](*d); {
		case errors.Is(e, diary.ErrForgotten): // as somebody wished
			err = e
		case e != nil:
			err, unwritten = e, list[i:]
		}
	}
	k.mu.Lock()
	k.waiting = append(unwritten, k.waiting...)
	k.mu.Unlock()
	k.tell(err)
	return err
}

// tell makes err the reason why nothing is being kept.
func (k *keptDiary) tell(err error) {
	k.mu.Lock()
	defer k.mu.Unlock()
	k.problem = err
}

// close writes what waits. Where that takes longer than anyone likes to wait without a word,
// told is called, with the reason if it is known; and after lastWait it is given up. The error
// says what could not be kept.
func (k *keptDiary) close(told func(problem error)) error {
	close(k.leaving)
	select {
	case <-k.over:
		return k.why()
	case <-time.After(shortWait + tryAgain):
		told(k.why())
	}
	select {
	case <-k.over:
		return k.why()
	case <-time.After(lastWait):
		return cmp.Or[error](k.why(), &diary.NotKept{Path: k.path, Err: errSlow})
	}
}

// errSlow says that the disk does not come to an end.
var errSlow = errors.New("the disk takes too long")

// why is why nothing is being kept; nil if all is well.
func (k *keptDiary) why() error {
	k.mu.Lock()
	defer k.mu.Unlock()
	return k.problem
}

// closeDiary writes what waits to be kept, and tells what could not be.
func (a *app) closeDiary(k *keptDiary) {
	err := k.close(func(problem error) {
		text := fmt.Sprintf("waiting up to %.0f s to keep what was danced", lastWait.Seconds())
		if problem != nil {
			text += ": " + message(problem)
		}
		fmt.Fprintf(a.err, "slowquick: %s\n", text)
	})
	if err != nil {
		a.warn(err)
	}
}

// leftToday is the session of a sheet that was left on the day of a time; ok is
// false if there is none.
func leftToday(timeline *player.Timeline, now time.Time) (s practice.Session, ok bool, err error) {
	d, err := readDiary()
	if err != nil || d == nil {
		return s, false, err
	}
	defer d.Close()
	plan, err := d.Session(practice.SheetOf(timeline.Score))
	if err != nil || plan == nil {
		return s, false, err
	}
	if err := json.Unmarshal(plan, &s); err != nil {
		return s, false, nil // of another version of the program
	}
	if !s.Fits(timeline) {
		return s, false, errors.New("the session that was left can't be danced, as the diary is damaged; it is planned anew")
	}
	return s, practice.DayOf(s.Made.In(now.Location())) == practice.DayOf(now), nil
}
