package diary_test

import (
	"bufio"
	"crypto/sha256"
	"database/sql"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/player/diary"
	"dance.example/slowquick/player/practice"
	_ "dance.example/slowquick/testdata/thorough"
)

// TestMain also runs the program that the environment names.
func TestMain(m *testing.M) {
	if role := os.Getenv("DIARY_ROLE"); role != "" {
		os.Exit(roles[role](os.Getenv("DIARY_FILE")))
	}
	os.Exit(m.Run())
}

// roles are the programs that tests start.
var roles = map[string]func(path string) int{"keep": keepOn, "migrate": migrate}

// play starts a program in a role.
func play(role, path string, more ...string) *exec.Cmd {
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(append(os.Environ(), "DIARY_ROLE="+role, "DIARY_FILE="+path), more...)
	cmd.Stderr = os.Stderr
	return cmd
}

// keepOn keeps run-throughs until it is killed, and prints the number of each when it is acknowledged.
// The numbers, from DIARY_FIRST on, are kept as lengths in milliseconds.
func keepOn(path string) int {
	first, err := strconv.Atoi(os.Getenv("DIARY_FIRST"))
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		return 1
	}
	d, err := diary.Open(path)
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		return 1
	}
	p := d.Begin(lantern, evening(0))
	for n := first; ; n++ {
		if err := p.Keep(numbered(n)); err != nil {
			fmt.Fprintln(os.Stderr, err)
			return 1
		}
		fmt.Println(n) // not buffered
	}
}

func numbered(n int) practice.Kept {
	p := pass(evening(0), 112, "Basic", "Oar turn", fmt.Sprint("Figure ", n%7))
	p.Took = time.Duration(n) * time.Millisecond
	p.Marks = []practice.Mark{{Place: n % 3}}
	return p
}

// keeper is a program that keeps run-throughs.
type keeper struct {
	cmd          *exec.Cmd
	acknowledged chan int
}

func startKeeper(t *testing.T, path string, first int) *keeper {
	t.Helper()
	k := &keeper{play("keep", path, fmt.Sprint("DIARY_FIRST=", first)), make(chan int, 1<<20)}
	out, err := k.cmd.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, k.cmd.Start())
	go func() {
		defer close(k.acknowledged)
		for lines := bufio.NewScanner(out); lines.Scan(); {
			n, err := strconv.Atoi(lines.Text())
			if err != nil {
				return // cut off in the middle of a number
			}
			k.acknowledged <- n
		}
	}()
	return k
}

// kill kills it at once and returns what it had acknowledged but nobody had read.
func (k *keeper) kill(t *testing.T) (list []int) {
	t.Helper()
	require.NoError(t, k.cmd.Process.Kill())
	for n := range k.acknowledged {
		list = append(list, n)
	}
	require.ErrorContains(t, k.cmd.Wait(), "killed")
	return list
}

// spin passes some time without waiting for anything.
func spin(times int) (sum [sha256.Size]byte) {
	for range times {
		sum = sha256.Sum256(sum[:])
	}
	return sum
}

// TestTheDiarySurvivesKilling: two programs keep run-throughs, and one of them is killed at a random
// moment and restarted, over and over. In the end every acknowledged run-through is there, and the
// database is sound.
//
// DIARY_KILLS is the number of kills; 20 if unset, 1000 before a release.
func TestTheDiarySurvivesKilling(t *testing.T) {
	t.Parallel()
	if os.PathSeparator == '\\' {
		t.Skip("there is no kill -9 here")
	}
	kills := kills(t, 20)
	path := filepath.Join(t.TempDir(), "diary.db")
	chance := rand.New(rand.NewPCG(uint64(kills), 1))
	next := 1
	start := func() *keeper {
		next += 100_000
		return startKeeper(t, path, next)
	}
	running := [2]*keeper{start(), start()}
	var acknowledged []int
	for range kills {
		victim := chance.IntN(2)
		// Some are killed before they have kept anything, even while they open the file.
		for range chance.IntN(6) {
			n, ok := <-running[victim].acknowledged
			require.True(t, ok, "it ended by itself")
			acknowledged = append(acknowledged, n)
		}
		spin(chance.IntN(20_000)) // some milliseconds
		acknowledged = append(acknowledged, running[victim].kill(t)...)
		running[victim] = start()
	}
	for _, k := range running {
		acknowledged = append(acknowledged, k.kill(t)...)
	}
	d := open(t, path)
	var sound string
	require.NoError(t, d.DB().QueryRow("PRAGMA integrity_check").Scan(&sound))
	assert.Equal(t, "ok", sound)
	kept := map[int]int{}
	for _, e := range entries(t, d, "") {
		n := int(e.Took.Milliseconds())
		kept[n]++
		require.Equal(t, numbered(n).Danced, e.Danced, "whole or not at all")
		require.Equal(t, numbered(n).Marks, e.Marks)
	}
	missing := 0
	for _, n := range acknowledged {
		if kept[n] != 1 {
			missing++
		}
	}
	assert.Zero(t, missing, "acknowledged, but not kept once")
	t.Logf("%d kills, %d passes acknowledged, %d kept", kills, len(acknowledged), len(kept))
	require.Greater(t, len(acknowledged), kills)
}

// migrate opens a diary, which brings it up to date, and says when it begins.
func migrate(path string) int {
	fmt.Println("begins")
	if _, err := diary.Open(path); err != nil {
		fmt.Fprintln(os.Stderr, err)
		return 1
	}
	return 0
}

// kills returns how many kills DIARY_KILLS asks for.
func kills(t *testing.T, usual int) int {
	if text := os.Getenv("DIARY_KILLS"); text != "" {
		n, err := strconv.Atoi(text)
		require.NoError(t, err)
		return n
	}
	return usual
}

// TestAMigrationSurvivesKilling: a program is killed at a random moment while it brings an old diary up to
// date. The next one finds all that was kept, brought up to date or as it was.
//
// DIARY_KILLS is the number of kills; 3 if unset, 1000 before a release.
func TestAMigrationSurvivesKilling(t *testing.T) {
	if os.PathSeparator == '\\' {
		t.Skip("there is no kill -9 here")
	}
	const passes = 1500
	dir := t.TempDir()
	path := filepath.Join(dir, "old.db")
	oldDiary(t, path, passes)
	old, err := os.ReadFile(path)
	require.NoError(t, err)
	began := time.Now()
	d, err := diary.Open(path)
	require.NoError(t, err)
	takes := time.Since(began)
	require.NoError(t, d.Close())
	chance := rand.New(rand.NewPCG(uint64(passes), 1))
	before := 0
	for n := range kills(t, 3) {
		path := filepath.Join(dir, fmt.Sprint(n, ".db"))
		require.NoError(t, os.WriteFile(path, old, 0o600))
		cmd := play("migrate", path)
		out, err := cmd.StdoutPipe()
		require.NoError(t, err)
		require.NoError(t, cmd.Start())
		require.True(t, bufio.NewScanner(out).Scan())
		for until := time.Now().Add(time.Duration(chance.Int64N(2 * int64(takes)))); time.Now().Before(until); {
			spin(100)
		}
		require.NoError(t, cmd.Process.Kill())
		_ = cmd.Wait() // it may have come to its end

		db, err := sql.Open("sqlite", path)
		require.NoError(t, err)
		var version int
		var sound string
		require.NoError(t, db.QueryRow("PRAGMA user_version").Scan(&version))
		require.NoError(t, db.QueryRow("PRAGMA integrity_check").Scan(&sound))
		require.NoError(t, db.Close())
		require.Equal(t, "ok", sound)
		require.Contains(t, []int{2, len(diary.Migrations)}, version, "all of it or none")
		if version == 2 {
			before++
		}
		d, err := diary.Open(path)
		require.NoError(t, err)
		list := entries(t, d, "")
		require.NoError(t, d.Close())
		require.Len(t, list, passes)
		for i, e := range list {
			require.Equal(t, fromOld(i+1), e.Kept)
		}
	}
	t.Logf("%d were killed before the migration was over", before)
}
