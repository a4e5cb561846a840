package program

import (
	"context"
	"strings"
	"testing"
	"testing/synctest"
	"time"

	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/assert"
)

// TestAPictureIsPaintedWhenItIsDue, neither before nor much later, whatever was said to be due earlier.
func TestAPictureIsPaintedWhenItIsDue(t *testing.T) {
	for _, test := range []struct{ due, painted time.Duration }{
		{0, 0}, {-time.Hour, 0}, {5 * time.Millisecond, 5 * time.Millisecond}, {Lead, Lead}, {time.Hour, 0},
	} {
		synctest.Test(t, func(t *testing.T) {
			ctx, cancel := context.WithCancel(t.Context())
			defer cancel()
			out := &dated{}
			due := &Due{}
			p := newPainter(out, due)
			go p.run(ctx)
			_, _ = p.Write(appears)
			start := time.Now()
			due.Set(start.Add(test.due))
			p.show("2 3 4 & 1")
			time.Sleep(time.Second)
			synctest.Wait()
			assert.Contains(t, out.text.String(), "2 3 4 & 1")
			assert.Equal(t, test.painted, out.last.Sub(start), "due after %s", test.due)
		})
	}
}

// dated remembers when it was written to last.
type dated struct {
	text strings.Builder
	last time.Time
}

func (d *dated) Write(text []byte) (int, error) {
	d.last = time.Now()
	return d.text.Write(text)
}

// painting returns a painter, and what it has written since it was asked last.
func painting() (p *painter, wrote func() string) {
	var out strings.Builder
	p = newPainter(&out, nil)
	return p, func() string {
		text := out.String()
		out.Reset()
		return strings.NewReplacer(ansi.SetModeSynchronizedOutput, "", ansi.ResetModeSynchronizedOutput, "").Replace(text)
	}
}

func (p *painter) paintText(text string) {
	p.text = text
	p.paint()
}

func TestOnlyWhatHasChangedIsPainted(t *testing.T) {
	p, wrote := painting()
	p.resize(9)
	_, _ = p.Write(appears)
	wrote()
	p.paintText("count\n2\nspace")
	assert.Equal(t, "\x1b[2J\x1b[1Hcount\x1b[K\x1b[2H2\x1b[K\x1b[3Hspace\x1b[K", wrote())
	p.paintText("count\n3\nspace")
	assert.Equal(t, "\x1b[2H3\x1b[K", wrote())
	p.paintText("count\n3\nspace")
	assert.Empty(t, wrote(), "nothing has changed")
	p.paintText("count\n4")
	assert.Equal(t, "\x1b[2H4\x1b[K\x1b[3H\x1b[J", wrote())
	p.paintText("123456789\nabcdefghijk")
	assert.Equal(t, "\x1b[1H123456789\x1b[2Habcdefghi", wrote(), "no line goes on in the next")
}

func TestColumns(t *testing.T) {
	for _, line := range []string{"", "count 2", "\x1b[1mspace\x1b[m start", "\x1b[38;2;1;2;3m▀▀\x1b[0m⠿é", "←→ step", "日本", "e\u0301", "a\tb", "\x1b]8;;x\x1b\\y", "\x1b[", "\x1b", "½ R", "▲ “”"} {
		assert.Equal(t, ansi.StringWidth(line), columns(line), "%q", line)
	}
}

// TestEverythingIsPaintedAgain after anything else was written, and in a window of another size.
func TestEverythingIsPaintedAgain(t *testing.T) {
	p, wrote := painting()
	_, _ = p.Write(appears)
	p.paintText("count\n2")
	wrote()
	_, _ = p.Write([]byte("\x1b[?25l"))
	assert.Equal(t, "\x1b[?25l\x1b[2J\x1b[1Hcount\x1b[2H2", wrote())
	p.resize(4)
	p.paintText("count\n2")
	assert.Equal(t, "\x1b[2J\x1b[1Hcoun\x1b[2H2\x1b[K", wrote())
}

// TestTheShellsScreenIsNotPaintedOn: not before the program's own appears, nor while it is stopped, nor
// after it.
func TestTheShellsScreenIsNotPaintedOn(t *testing.T) {
	p, wrote := painting()
	p.paintText("count")
	assert.Empty(t, wrote())
	_, _ = p.Write(appears)
	assert.Contains(t, wrote(), "count")
	_, _ = p.Write(disappears)
	p.paintText("count 2")
	assert.Equal(t, string(disappears), wrote())
	_, _ = p.Write(appears)
	assert.Contains(t, wrote(), "count 2")
}

func TestALaterPictureTakesThePlaceOfOneThatWaits(t *testing.T) {
	p, _ := painting()
	p.show("1")
	p.show("2")
	assert.Equal(t, "2", <-p.next)
	assert.Empty(t, p.next)
}
