package diary

import (
	"cmp"
	"encoding/json"
	"errors"
	"io/fs"
	"sync"
	"time"

	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/player/store"
	"dance.example/slowquick/routine"
)

// Writer keeps a diary in a goroutine of its own, so that whoever dances never waits for it.
// What can't be written yet, as another program is writing or the disk is full, waits until it
// can.
type Writer struct {
	path    string
	wake    chan struct{} // something waits
	leaving chan struct{} // closed when everything is to be written
	over    chan struct{} // closed when everything is written, or can't be

	mu      sync.Mutex
	waiting []func(*Diary) error // in order
	problem error                // why the last attempt to write failed; nil if it didn't
}

const (
	shortWait = 300 * time.Millisecond // for another program that is writing, each time
	tryAgain  = 200 * time.Millisecond // after that

	// LastWait is how long [Writer.Close] waits at most after it has called told.
	LastWait = 3 * time.Second
)

// NewWriter begins to keep the diary in a file. The file is opened, or made, once there is
// something to keep.
func NewWriter(path string) *Writer {
	w := &Writer{path: path, wake: make(chan struct{}, 1), leaving: make(chan struct{}), over: make(chan struct{})}
	go w.work()
	return w
}

// Status says in plain words why nothing is being kept; "" if all is well.
func (w *Writer) Status() string {
	if err := w.why(); err != nil {
		return err.Error()
	}
	return ""
}

// waitingPractice is one practice that a [Writer] keeps.
type waitingPractice struct {
	writer *Writer
	sheet  practice.Sheet
	began  time.Time
	now    *Practice // nil until something is kept
}

// Begin begins a practice of a routine. A Writer is a [practice.Diary].
func (w *Writer) Begin(s *routine.Score) practice.Keeper { return w.begin(practice.SheetOf(s)) }

func (w *Writer) begin(sheet practice.Sheet) practice.Keeper {
	return &waitingPractice{writer: w, sheet: sheet, began: time.Now()}
}

// Keep has a run-through kept, and doesn't wait for that.
func (p *waitingPractice) Keep(pass practice.Kept) {
	p.write(func(now *Practice) error { return now.Keep(pass) })
}

// Judge has it kept who said how a run-through went, and doesn't wait for that.
func (p *waitingPractice) Judge(ended time.Time, by [2]bool) {
	p.write(func(now *Practice) error { return now.Judge(ended, by) })
}

func (p *waitingPractice) write(f func(*Practice) error) {
	p.writer.write(func(d *Diary) error {
		if p.now == nil {
			p.now = d.Begin(p.sheet, p.began)
		}
		return f(p.now)
	})
}

// Leave keeps how far a session of a sheet has come, or forgets it if it is over.
func (w *Writer) Leave(sheet practice.Sheet, s practice.Session) {
	var plan []byte
	if _, more := s.Next(); more {
		var err error
		if plan, err = json.Marshal(s); err != nil {
			w.tell(err)
			return
		}
	}
	w.write(func(d *Diary) error { return d.Leave(sheet, plan) })
}

// KeepTimed has it kept how well steps were tapped, and doesn't wait for that.
func (w *Writer) KeepTimed(t Timed) {
	w.write(func(d *Diary) error { return d.KeepTimed(t) })
}

// TakeBack has an open mark taken back, and doesn't wait for that.
func (w *Writer) TakeBack(m practice.OpenMark) {
	w.write(func(d *Diary) error {
		_, err := d.TakeBack(m)
		return err
	})
}

// write has f write into the diary, after everything that waits.
func (w *Writer) write(f func(*Diary) error) {
	w.mu.Lock()
	w.waiting = append(w.waiting, f)
	w.mu.Unlock()
	select {
	case w.wake <- struct{}{}:
	default: // already awake
	}
}

// work writes what waits, until the writer is closed.
func (w *Writer) work() {
	defer close(w.over)
	var d *Diary // nil until there is something to keep
	leaving, left := w.leaving, false
	for {
		err := w.writeAll(&d)
		var again <-chan time.Time
		if errors.Is(err, ErrBusy) {
			again = time.After(tryAgain)
		} else if left {
			break
		}
		select {
		case <-w.wake:
		case <-again:
		case <-leaving:
			leaving, left = nil, true
		}
	}
	if d != nil {
		if err := d.Close(); err != nil {
			w.tell(err)
		}
	}
}

// writeAll writes what waits, in order, and opens *d if it is nil. What can't be written goes
// on waiting.
func (w *Writer) writeAll(d **Diary) (err error) {
	w.mu.Lock()
	list := w.waiting
	w.waiting = nil
	w.mu.Unlock()
	if len(list) == 0 {
		return nil
	}
	if *d == nil {
		if err = store.Plain(w.path); err != nil && !errors.Is(err, fs.ErrNotExist) {
			err = &NotKept{Path: w.path, Err: err}
		} else {
			*d, err = OpenWithin(w.path, shortWait)
		}
	}
	var unwritten []func(*Diary) error
	if err != nil {
		*d, unwritten = nil, list
	}
	for i := 0; i < len(list) && unwritten == nil; i++ {
		switch e := list[i](*d); {
		case errors.Is(e, ErrForgotten): // as somebody wished
			err = e
		case e != nil:
			err, unwritten = e, list[i:]
		}
	}
	w.mu.Lock()
	w.waiting = append(unwritten, w.waiting...)
	w.mu.Unlock()
	w.tell(err)
	return err
}

// Flush waits until everything that was to be kept so far is written, or for a time at most.
func (w *Writer) Flush(most time.Duration) {
	written := make(chan struct{})
	w.write(func(*Diary) error { close(written); return nil })
	select {
	case <-written:
	case <-time.After(most):
	}
}

// tell records why nothing is being kept; nil if all is well.
func (w *Writer) tell(err error) {
	w.mu.Lock()
	defer w.mu.Unlock()
	w.problem = err
}

// Close writes what waits. If that takes longer than anyone likes to wait without a word, it
// calls told, with the reason or nil, and gives up after [LastWait]. The error says what could
// not be kept. Close must be called once.
func (w *Writer) Close(told func(problem error)) error {
	close(w.leaving)
	select {
	case <-w.over:
		return w.why()
	case <-time.After(shortWait + tryAgain):
		told(w.why())
	}
	select {
	case <-w.over:
		return w.why()
	case <-time.After(LastWait):
		return cmp.Or[error](w.why(), &NotKept{Path: w.path, Err: errSlow})
	}
}

// errSlow says that nothing is wrong with the disk but that it doesn't finish.
var errSlow = errors.New("the disk is taking too long")

// why returns why nothing is being kept; nil if all is well.
func (w *Writer) why() error {
	w.mu.Lock()
	defer w.mu.Unlock()
	return w.problem
}
