package main

import (
	"bytes"
	"database/sql"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/adrg/xdg"
	"github.com/mattn/go-runewidth"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/library"
	"dance.example/slowquick/player"
	"dance.example/slowquick/player/diary"
	"dance.example/slowquick/player/practice"
	"dance.example/slowquick/player/screen"
	"dance.example/slowquick/player/screen/dance"
	"dance.example/slowquick/routine"
)

// stateIn has this test's diary kept in a folder.
func stateIn(t testing.TB, dir string) {
	t.Helper()
	t.Setenv("XDG_STATE_HOME", dir)
	xdg.Reload()
	t.Cleanup(xdg.Reload) // for the environment as it was, which is there again by then
}

// told runs a command and gives what it prints.
func told(t testing.TB, code int, args ...string) (out, errOut string) {
	t.Helper()
	var o, e bytes.Buffer
	require.Equal(t, code, run(args, strings.NewReader(""), &o, &e), e.String())
	return o.String(), e.String()
}

// figurePass is a run-through that both partners judged.
func figurePass(at time.Time, beats int, names ...string) practice.Kept {
	p := practice.Kept{At: at, Took: 2 * time.Minute, Tempo: routine.Tempo(beats) * routine.BeatPerMinute, Finished: true, Judged: [2]bool{true, true}}
	for _, name := range names {
		p.Danced = append(p.Danced, practice.Danced{Figure: practice.Figure{Dance: "Cha-cha", Name: name, Steps: name}, Whole: true})
	}
	return p
}

// keepAnEvening keeps two passes that were danced just now, and one a week ago.
func keepAnEvening(t testing.TB, dir string, now time.Time) {
	t.Helper()
	d, err := diary.Open(filepath.Join(dir, "slowquick", "diary.db"))
	require.NoError(t, err)
	defer d.Close()
	evening := practice.Sheet{Dance: "Cha-cha", Title: "Boathouse evening", Order: "1"}
	before := now.AddDate(0, 0, -7)
	require.NoError(t, d.Begin(practice.Sheet{Dance: "Cha-cha", Title: "Jetty", Order: "2"}, before).Keep(figurePass(before, 100, "Time step")))
	p := d.Begin(evening, now)
	marked := figurePass(now.Add(time.Second), 120, "Closed basic", "Time step")
	marked.Marks = []practice.Mark{{Place: 1, Partner: routine.Leader}, {Place: 1, Join: true, Partner: routine.Follower}}
	require.NoError(t, p.Keep(figurePass(now, 112, "Closed basic", "Time step")))
	require.NoError(t, p.Keep(marked))
}

func TestTheDiaryIsShown(t *testing.T) {
	dir := t.TempDir()
	stateIn(t, dir)
	now := time.Now()
	keepAnEvening(t, dir, now)
	monday := time.Date(now.Year(), now.Month(), now.Day()-(int(now.Weekday())+6)%7, 0, 0, 0, 0, now.Location())

	out, errOut := told(t, exitOK, "diary", "--weeks", "3")
	assert.Empty(t, errOut)
	full := strings.Repeat("█", 80-len("2026-09-07     0 min  ")-1)
	assert.Equal(t, fmt.Sprintf(`WEEK FROM   DANCED
%s     0 min
%s     2 min  %s
%s     4 min  %s

FIGURE              DANCED  LEADER CLEAN  FOLLOWER CLEAN  LAST
Cha-cha (bars/min)
Closed basic        2       2 of 2, 30    2 of 2, 30      %s
Time step           3       2 of 3, 28    3 of 3, 30      %[6]s
`, monday.AddDate(0, 0, -14).Format(time.DateOnly), monday.AddDate(0, 0, -7).Format(time.DateOnly), string([]rune(full)[:len([]rune(full))/2])+"▌",
		monday.Format(time.DateOnly), full, now.Format(time.DateOnly)), out)

	out, _ = told(t, exitOK, "diary", "--weeks", "1", "--json")
	var report map[string][]map[string]any
	require.NoError(t, json.Unmarshal([]byte(out), &report))
	assert.Len(t, report["runThroughs"], 3)
	assert.Len(t, report["marks"], 2)
	assert.Equal(t, []map[string]any{{"monday": monday.Format(time.DateOnly), "minutes": 4.0, "practices": 1.0, "passes": 2.0}}, report["weeks"])
	require.Len(t, report["figures"], 2)
	assert.Equal(t, map[string]any{"dance": "Cha-cha", "name": "Time step", "passes": 3.0, "lastDanced": now.Format(time.DateOnly),
		"bestClean": []any{112.0, 120.0}, "judged": []any{3.0, 3.0}, "clean": []any{2.0, 3.0}, "marks": []any{1.0, 0.0}}, report["figures"][1])

	out, _ = told(t, exitOK, "diary", "--csv")
	lines, err := csv.NewReader(strings.NewReader(out)).ReadAll()
	require.NoError(t, err)
	require.Len(t, lines, 4)
	assert.Equal(t, []string{"2", now.Add(time.Second).Format(time.RFC3339), "Cha-cha", "Boathouse evening", "Closed basic; Time step", "both", "120", "120", "true", "both", "",
		"Time step (leader); Closed basic into Time step (follower)"}, lines[3])
}

// TestTheDiarySaysHowOftenAFigureWasClean for each partner, and cuts no name.
func TestTheDiarySaysHowOftenAFigureWasClean(t *testing.T) {
	dir := t.TempDir()
	stateIn(t, dir)
	d, err := diary.Open(filepath.Join(dir, "slowquick", "diary.db"))
	require.NoError(t, err)
	now := time.Now()
	p := figurePass(now, 120, "Lantern turn to the right side", "Lantern turn to the left side")
	p.Judged = [2]bool{false, true}
	p.Marks = []practice.Mark{{Place: 0, Partner: routine.Follower}}
	require.NoError(t, d.Begin(practice.Sheet{Dance: "Cha-cha", Title: "Jetty", Order: "2"}, now).Keep(p))
	require.NoError(t, d.Close())
	out, _ := told(t, exitOK, "diary", "--weeks", "1")
	today := now.Format(time.DateOnly)
	assert.Contains(t, out, "\nLantern turn to the right side  1       not judged    0 of 1          "+today+"\n")
	assert.Contains(t, out, "\nLantern turn to the left side   1       not judged    1 of 1, 30      "+today+"\n")
}

// TestMarksAreListed, and taken back one by one.
func TestMarksAreListed(t *testing.T) {
	dir := t.TempDir()
	stateIn(t, dir)
	now := time.Now()
	keepAnEvening(t, dir, now)
	today := now.Add(time.Second).Format(time.DateOnly)
	out, errOut := told(t, exitOK, "diary", "--marks")
	assert.Empty(t, errOut)
	assert.Equal(t, `   WHAT                         PARTNER   MARKED AT    LAST        TIMES
1  Closed basic into Time step  follower  30 bars/min  `+today+`  1
2  Time step                    leader    30 bars/min  `+today+`  1
`, out)
	_, errOut = told(t, exitUsage, "diary", "--clear", "3")
	assert.Equal(t, "slowquick: error: --clear: there is no mark 3\nslowquick: hint: slowquick diary --marks lists them\n", errOut)
	told(t, exitUsage, "diary", "--clear", "0")
	out, _ = told(t, exitOK, "diary", "--clear", "1")
	assert.Equal(t, "No longer marked: Closed basic into Time step (follower).\n", out)
	out, _ = told(t, exitOK, "diary", "--marks")
	assert.NotContains(t, out, "Closed basic")
	told(t, exitOK, "diary", "--clear", "1")
	out, _ = told(t, exitOK, "diary", "--marks")
	assert.Equal(t, "Nothing is marked.\n", out)
}

// TestADiaryIsMerged into another, and only once.
func TestADiaryIsMerged(t *testing.T) {
	other, dir := t.TempDir(), t.TempDir()
	keepAnEvening(t, other, time.Now())
	stateIn(t, dir)
	file := filepath.Join(other, "slowquick", "diary.db")
	out, errOut := told(t, exitOK, "diary", "merge", file)
	assert.Empty(t, errOut)
	assert.Equal(t, "Added 3 run-throughs of 2 new practices.\n", out)
	out, _ = told(t, exitOK, "diary", "merge", file)
	assert.Equal(t, "Nothing new: the diary had all of it.\n", out)
	out, _ = told(t, exitOK, "diary", "--csv")
	assert.Equal(t, 4, strings.Count(out, "\n"))
	told(t, exitUsage, "diary", "merge")
	_, errOut = told(t, exitFailed, "diary", "merge", filepath.Join(other, "none.db"))
	assert.Contains(t, errOut, "slowquick: error: merge the diary "+filepath.Join(other, "none.db")+": ")
	text := filepath.Join(other, "text.db")
	require.NoError(t, os.WriteFile(text, []byte("Lantern Night"), 0o600))
	_, errOut = told(t, exitFailed, "diary", "merge", text)
	assert.Contains(t, errOut, "it is damaged or is not a diary")
	assert.NotContains(t, errOut, diary.File(), "it is the other one that is damaged")
}

// TestNoTextOfTheDiaryIsAFormula in a spreadsheet, whichever separator the spreadsheet splits cells at;
// other texts stay as they are.
func TestNoTextOfTheDiaryIsAFormula(t *testing.T) {
	dir := t.TempDir()
	stateIn(t, dir)
	d, err := diary.Open(filepath.Join(dir, "slowquick", "diary.db"))
	require.NoError(t, err)
	now := time.Now()
	texts := map[string]string{
		"=HYPERLINK(\"http://lantern.example\")": "'=HYPERLINK(\"http://lantern.example\")",
		"+1":                                     "'+1", "-1": "'-1", "@SUM(A1)": "'@SUM(A1)", "\t=1": "'\t'=1", "\r=1": "'\ufffd'=1", "\n=1": "'\n'=1",
		"Night;=1+2": "Night;'=1+2", "Night\";=1+2": "Night\";'=1+2", "Night;\"=1": "Night;\"'=1", "Night,-1": "Night,'-1", "=": "'=",
		"Night – 1 + 2 = 3, at the river-side": "Night – 1 + 2 = 3, at the river-side", "'s": "'s", "": "",
	}
	want := map[string]bool{}
	for text, safe := range texts {
		want[safe] = true
		p := d.Begin(practice.Sheet{Dance: "Cha-cha", Title: text, Order: text}, now)
		require.NoError(t, p.Keep(figurePass(now, 112, "x"+text)))
		require.NoError(t, p.Keep(figurePass(now, 112, text+"x")))
	}
	require.NoError(t, d.Close())
	out, _ := told(t, exitOK, "diary", "--csv")
	rows, err := csv.NewReader(strings.NewReader(out)).ReadAll()
	require.NoError(t, err)
	require.Len(t, rows, 1+2*len(texts))
	got := map[string]bool{}
	for _, row := range rows[1:] {
		got[row[3]] = true
		for _, cell := range row {
			assert.NotRegexp(t, `(^|[,;"\t\r\n])[=+@-]`, cell)
		}
	}
	assert.Equal(t, want, got)
}

// TestTheDiaryIsPlannedFrom: what was marked comes up in the next session.
func TestTheDiaryIsPlannedFrom(t *testing.T) {
	dir := t.TempDir()
	stateIn(t, dir)
	keepAnEvening(t, dir, time.Now().AddDate(0, 0, -1))
	sheet := filepath.Join(dir, "evening.md")
	require.NoError(t, os.WriteFile(sheet, []byte("---\ndance: cha-cha\ntempo: 30 bars/min\n---\n\n## Order\n\n1. Closed basic\n2. Time step\n"), 0o600))
	out, errOut := told(t, exitOK, "practise", sheet, "--couple")
	assert.Empty(t, errOut)
	assert.Regexp(t, `Closed basic into Time step +follower .* it went wrong, for the follower`, out)
	assert.Regexp(t, `Time step +leader .* it went wrong, for the leader`, out)
	assert.Contains(t, out, "from 28.1 bars/min; today to 29.6 bars/min; the goal is 30 bars/min")
}

func TestForgetting(t *testing.T) {
	dir := t.TempDir()
	stateIn(t, dir)
	keepAnEvening(t, dir, time.Now())
	_, errOut := told(t, exitUsage, "diary", "forget")
	assert.Equal(t, "slowquick: error: can't ask without a terminal\nslowquick: hint: --yes deletes without asking\n", errOut)
	_, errOut = told(t, exitUsage, "diary", "forget", "--sheet", "Boathouse morning", "--yes")
	assert.Contains(t, errOut, "perhaps Boathouse evening")
	_, errOut = told(t, exitUsage, "diary", "forget", "--sheet", "")
	assert.Contains(t, errOut, "give a title")
	out, _ := told(t, exitOK, "diary", "forget", "--sheet", "jetty", "--yes")
	assert.Equal(t, "Deleted 1 practice.\n", out)
	out, _ = told(t, exitOK, "diary", "--csv")
	assert.NotContains(t, out, "Jetty")
	assert.Contains(t, out, "Boathouse evening")
	out, _ = told(t, exitOK, "diary", "forget", "--yes")
	assert.Equal(t, "Deleted 1 practice.\n", out)
	out, _ = told(t, exitOK, "diary", "--csv")
	assert.Equal(t, 1, strings.Count(out, "\n"))
}

// TestADamagedDiaryIsReadAsFarAsItGoes by every command that prints it, and the hint says what to do.
func TestADamagedDiaryIsReadAsFarAsItGoes(t *testing.T) {
	dir := t.TempDir()
	stateIn(t, dir)
	keepAnEvening(t, dir, time.Now())
	path := filepath.Join(dir, "slowquick", "diary.db")
	alter := func(query string) {
		t.Helper()
		db, err := sql.Open("sqlite", path)
		require.NoError(t, err)
		defer db.Close()
		_, err = db.Exec(query)
		require.NoError(t, err)
	}
	alter("UPDATE pass SET side = 200 WHERE id = 2")
	const rest = "is damaged: 1 row can't be read and is left out\nslowquick: hint: the rest can still be read; to begin a new diary, delete this one with slowquick diary forget"
	for args, want := range map[string]string{"--csv": "Jetty", "--json": `"Closed basic"`, "--weeks=4": "Closed basic"} {
		out, errOut := told(t, exitFailed, "diary", args)
		assert.Contains(t, out, want, args)
		assert.Contains(t, errOut, rest, args)
	}
	out, _ := told(t, exitFailed, "diary", "--csv")
	assert.Equal(t, 3, strings.Count(out, "\n"))

	sheet := filepath.Join(dir, "evening.md")
	require.NoError(t, os.WriteFile(sheet, []byte("---\ndance: cha-cha\ntempo: 30 bars/min\n---\n\n## Order\n\n1. Closed basic\n2. Time step\n"), 0o600))
	out, errOut := told(t, exitOK, "practise", sheet, "--couple")
	assert.Contains(t, errOut, "slowquick: warning: the diary "+path+" is damaged")
	assert.Regexp(t, `Closed basic into Time step +follower .* it went wrong, for the follower`, out)

	out, _ = told(t, exitOK, "diary", "forget", "--yes")
	assert.Equal(t, "Deleted 2 practices.\n", out)
	told(t, exitOK, "diary", "--csv")

	alter("PRAGMA user_version = -3")
	for _, args := range [][]string{{"diary"}, {"diary", "--csv"}, {"diary", "forget", "--yes"}} {
		_, errOut := told(t, exitFailed, args...)
		assert.Equal(t, "slowquick: error: read the diary "+path+": it is damaged or is not a diary (its version is -3)\n"+
			"slowquick: hint: move "+path+" away or delete it; a new diary begins when you dance\n", errOut)
	}
	require.NoError(t, os.WriteFile(path, []byte(strings.Repeat("no diary ", 1000)), 0o600))
	_, errOut = told(t, exitFailed, "diary", "forget", "--yes")
	assert.Contains(t, errOut, "it is damaged or is not a diary")
	assert.Contains(t, errOut, "hint: move "+path+" away")
}

// TestASessionThatCantBeIsPlannedAnew: a session in the diary that makes no sense does no harm.
func TestASessionThatCantBeIsPlannedAnew(t *testing.T) {
	dir := t.TempDir()
	stateIn(t, dir)
	score, found := routine.Read("jetty.md", []byte("---\ndance: cha-cha\ntitle: Jetty\n---\n\n## Order\n\n1. Closed basic\n"), library.Open())
	require.False(t, routine.HasErrors(found), "%v", found)
	timeline := player.NewTimeline(score)
	for plan, ok := range map[string]bool{
		`{"stretches": [], "done": 3}`: false,
		`{"done": 3}`:                  false,
		`{"stretches": [{"kind": "breather", "seconds": 30}, {"kind": "breather", "seconds": 30}], "done": -1}`: false,
		`{"stretches": [{"kind": "breather", "seconds": 30}, {"kind": "breather", "seconds": -9}], "done": 1}`:  false,
		`{"stretches": [{"kind": "whole", "from": 0, "to": 99}], "done": 0}`:                                    false,
		`{"stretches": [{"kind": "breather", "seconds": 30}], "done": 0}`:                                       true,
		`5`: true,
	} {
		d, err := diary.Open(diary.File())
		require.NoError(t, err)
		require.NoError(t, d.Leave(practice.SheetOf(timeline.Score), []byte(plan)))
		require.NoError(t, d.Close())
		_, resumed, err := diary.LeftToday(timeline, time.Now())
		assert.False(t, resumed, plan) // it was made on another day
		assert.Equal(t, ok, err == nil, plan)
	}
}

// BenchmarkDiary prints the diary of ten years of daily practice, 100,000 passes
// (wanted: under 300 ms).
func BenchmarkDiary(b *testing.B) {
	dir := b.TempDir()
	stateIn(b, dir)
	path := filepath.Join(dir, "slowquick", "diary.db")
	d, err := diary.Open(path)
	require.NoError(b, err)
	const days, each = 3650, 28
	first := time.Now().AddDate(0, 0, 1-days)
	p := d.Begin(practice.Sheet{Dance: "Cha-cha", Title: "Boathouse evening", Order: "1"}, first)
	for i := range each {
		var names []string
		for k := range 12 - i%6 {
			names = append(names, fmt.Sprint("Figure ", k+i%5))
		}
		pass := figurePass(first.Add(time.Duration(i)*time.Second), 100+i, names...)
		if i%5 == 0 {
			pass.Marks = []practice.Mark{{Place: i % 6, Partner: routine.Leader}, {Place: i % 6, Partner: routine.Follower}}
		}
		require.NoError(b, p.Keep(pass))
	}
	require.NoError(b, d.Close())
	db, err := sql.Open("sqlite", path)
	require.NoError(b, err)
	for _, repeated := range []string{
		`INSERT INTO practice (id, sheet, began, took, uid) SELECT day + 1, sheet, began + day * 86400000, took, uid || day FROM practice, days`,
		`INSERT INTO pass (id, practice, part, at, took, tempo, side, finished, number)
			SELECT id + day * 100, practice + day, part, at + day * 86400000, took, tempo, side, finished, number FROM pass, days`,
		`INSERT INTO mark (pass, place, is_join, partner) SELECT pass + day * 100, place, is_join, partner FROM mark, days`,
	} {
		_, err = db.Exec(fmt.Sprintf("WITH RECURSIVE days(day) AS (SELECT 1 UNION ALL SELECT day + 1 FROM days WHERE day < %d) ", days-1) + repeated)
		require.NoError(b, err)
	}
	require.NoError(b, db.Close())
	for b.Loop() {
		out, _ := told(b, exitOK, "diary", "--weeks", "520")
		require.Greater(b, strings.Count(out, "\n"), 530)
	}
	out, _ := told(b, exitOK, "diary", "--csv")
	require.Equal(b, 1+days*each, strings.Count(out, "\n"))
}

// TestASessionIsSummedUp as soon as its last run-through is kept, and again when the screen is gone.
func TestASessionIsSummedUp(t *testing.T) {
	stateIn(t, t.TempDir())
	text, err := library.Open().Sheet("lantern-night-cha-cha")
	require.NoError(t, err)
	score, _ := routine.Read("", text, library.Open())
	timeline := player.NewTimeline(score)
	began := time.Now().Add(-10 * time.Minute)
	_, figures := practice.Part(timeline, player.Interval{From: timeline.Start, To: timeline.End})
	w := diary.NewWriter(diary.File())
	w.Begin(score).Keep(practice.Kept{At: time.Now(), Took: 4 * time.Minute, Tempo: score.Tempo, Finished: true, Judged: [2]bool{true, true}, Danced: figures})

	var out bytes.Buffer
	a := printsOn(&out, io.Discard)
	var o screen.Options
	l := a.lead(&o, w, routine.Both, func(err error) { t.Error(err) }, nil)
	a.printSummed(l)
	assert.Empty(t, out.String(), "no exercise is done")
	session := practice.Session{Made: began, Exercises: make([]practice.Exercise, 2), Done: 1}
	o.Left(score, session)
	sections := o.Sums(dance.Over{Session: session, Score: score})
	require.Len(t, sections, 4)
	assert.Equal(t, []string{"1 of 2 exercises, 1 run-through, 4 minutes of dancing"}, sections[0].Lines)
	require.NoError(t, w.Close(func(error) {}))
	a.printSummed(l)
	assert.Contains(t, out.String(), "Lantern Night cha-cha today\n  1 of 2 exercises, 1 run-through, 4 minutes of dancing\nDanced\n  Closed basic, ")
	assert.Contains(t, out.String(), ": clean for the first time, at "+routine.Decimal(score.Dance.BarsPerMinute(score.Tempo), 1)+" bars/min\nNext\n")
}

// TestProgressIsDrawn with numbers beside each picture, in lines that fit.
func TestProgressIsDrawn(t *testing.T) {
	dir := t.TempDir()
	stateIn(t, dir)
	now := time.Now()
	keepAnEvening(t, dir, now)
	out, errOut := told(t, exitOK, "diary", "--progress", "--weeks", "3")
	assert.Empty(t, errOut)
	monday := time.Date(now.Year(), now.Month(), now.Day()-(int(now.Weekday())+6)%7, 0, 0, 0, 0, now.Location())
	for _, line := range []string{
		"Progress since " + monday.AddDate(0, 0, -14).Format(time.DateOnly) + ", a column a week",
		"minutes  ·▄█  this week 4, in all 6, most 4 (" + monday.Format(time.DateOnly) + ")",
		"marks    ··█  this week 2, in all 2, most 2 (" + monday.Format(time.DateOnly) + ")",
		"FIGURE              CLEAN  AT        KNOWN TODAY   MARKS",
		"Cha-cha (bars/min)",
		"Closed basic        ··█    30        100 % ██████  0",
		"Time step           ·▁█    25 to 30  100 % ██████  1",
	} {
		assert.Contains(t, strings.Split(out, "\n"), line)
	}
	for _, width := range []int{80, 100} {
		for line := range strings.Lines(out) {
			assert.LessOrEqual(t, runewidth.StringWidth(strings.TrimSpace(line)), width)
		}
	}
	stateIn(t, t.TempDir())
	out, errOut = told(t, exitOK, "diary", "--progress")
	assert.Empty(t, out)
	assert.Contains(t, errOut, "the diary is empty")
}
