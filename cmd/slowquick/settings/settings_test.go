package settings_test

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/cmd/slowquick/settings"
	"dance.example/slowquick/player"
	"dance.example/slowquick/routine"
)

// folder has the settings in a new folder, with nothing from the environment.
func folder(t testing.TB) {
	dir := t.TempDir()
	for _, variable := range []string{"XDG_CONFIG_HOME", "HOME", "AppData"} {
		t.Setenv(variable, dir)
	}
	for _, variable := range []string{"LC_ALL", "LC_PAPER", "LANG"} {
		t.Setenv(variable, "")
	}
}

// put writes the file of settings.
func put(t testing.TB, text string) {
	t.Helper()
	require.NoError(t, os.MkdirAll(filepath.Dir(settings.File()), 0o700))
	require.NoError(t, os.WriteFile(settings.File(), []byte(text), 0o600))
}

// file returns what is in the file of settings.
func file(t testing.TB) string {
	t.Helper()
	text, err := os.ReadFile(settings.File())
	require.NoError(t, err)
	return string(text)
}

// read returns the settings, which can be read.
func read(t testing.TB) *settings.Values {
	t.Helper()
	v, err := settings.Read()
	require.NoError(t, err)
	return v
}

// TestAllThatIsWrongIsFound at once, each where it stands.
func TestAllThatIsWrongIsFound(t *testing.T) {
	folder(t)
	put(t, "# Lantern Night\r\npaper: a5\r\n\r\n  tempi: 70 %\nlead-in: 2\nlead-in: seven\nslow\ncall: yes\n")
	span := func(line, from, to, offset int) routine.Span {
		return routine.Span{Start: routine.Pos{Offset: offset, Line: line, Column: from}, End: routine.Pos{Offset: offset + to - from, Line: line, Column: to}}
	}
	v := read(t)
	assert.Equal(t, []routine.Finding{
		{Severity: routine.Error, Span: span(2, 8, 10, 24), Message: `paper can't be "a5"`, Hint: "use a4 or letter"},
		{Severity: routine.Error, Span: span(4, 3, 8, 32), Message: `there is no setting "tempi"`, Hint: "perhaps tempo"},
		{Severity: routine.Error, Span: span(6, 1, 8, 55), Message: "lead-in is set twice", Related: []routine.Related{{Span: span(5, 1, 8, 44), Message: "first set here"}}},
		{Severity: routine.Error, Span: span(6, 10, 15, 64), Message: `lead-in can't be "seven"`, Hint: "use 0 to 4 bars"},
		{Severity: routine.Error, Span: span(7, 1, 5, 70), Message: "this is no setting", Hint: "write a name, a colon and a value; # begins a remark"},
	}, v.Findings)
	assert.Equal(t, settings.Value{Text: "2", From: "settings.txt, line 5"}, v.Of("lead-in"), "what can be read holds")
	assert.Equal(t, settings.Value{Text: "yes", From: "settings.txt, line 8"}, v.Of("call"))
	assert.Zero(t, v.Of("paper"))
}

// TestValuesInTheirUsualForm, and what can't be one.
func TestValuesInTheirUsualForm(t *testing.T) {
	folder(t)
	home, err := os.UserHomeDir()
	require.NoError(t, err)
	for _, c := range []struct{ name, text, want, wrong string }{
		{"paper", " Letter ", "letter", ""},
		{"paper", "a5", "", "use a4 or letter"},
		{"tempo", "70", "70 %", ""},
		{"tempo", "62.5%", "62.5 %", ""},
		{"tempo", "28 bars/min", "", "use 10 to 400 %"},
		{"tempo", "NaN %", "", "use 10 to 400 %"},
		{"lead-in", "2 bars", "2", ""},
		{"lead-in", "5", "", "use 0 to 4 bars"},
		{"lead-in", "1.5", "", "use 0 to 4 bars"},
		{"pause-after", "37.5", "37.5", ""},
		{"pause-after", "0", "0", ""},
		{"pause-after", "0.5", "", "use 1 to 240 minutes, or 0 for never"},
		{"pause-after", "1e9", "", "use 1 to 240 minutes, or 0 for never"},
		{"voice-level", "101 %", "", "use 0 to 100 %"},
		{"count", "slow/quick", "slow/quick", ""},
		{"count", "", "", "use count, slow/quick or words"},
		{"voice", "~/words", filepath.Join(home, "words"), ""},
		{"voice", "words", "", "use a whole path, such as ~/dance"},
	} {
		s, ok := settings.Named(c.name)
		require.True(t, ok, c.name)
		got, err := s.Read(c.text)
		assert.Equal(t, c.want, got, "%s: %s", c.name, c.text)
		if c.wrong != "" {
			assert.EqualError(t, err, c.wrong, "%s: %s", c.name, c.text)
		} else {
			assert.NoError(t, err)
		}
	}
}

// TestTheEnvironmentGoesBeforeTheFile, and what is wrong in it is told at once.
func TestTheEnvironmentGoesBeforeTheFile(t *testing.T) {
	folder(t)
	put(t, "tempo: 70 %\npaper: a4\n")
	t.Setenv("SLOWQUICK_TEMPO", "80")
	t.Setenv("SLOWQUICK_VOICE", "words")
	t.Setenv("SLOWQUICK_COUNT", "")
	v := read(t)
	here, err := os.Getwd()
	require.NoError(t, err)
	require.NoError(t, v.Wrong)
	assert.Equal(t, settings.Value{Text: "80 %", From: "SLOWQUICK_TEMPO"}, v.Of("tempo"))
	assert.Equal(t, settings.Value{Text: filepath.Join(here, "words"), From: "SLOWQUICK_VOICE"}, v.Of("voice"))
	assert.Equal(t, settings.Value{Text: "a4", From: "settings.txt, line 2"}, v.Of("paper"))
	assert.Zero(t, v.Of("count"), "an empty variable is as good as none")

	t.Setenv("SLOWQUICK_TEMPO", "fast")
	t.Setenv("SLOWQUICK_PAPR", "a4")
	assert.EqualError(t, read(t).Wrong, "SLOWQUICK_TEMPO: \"fast\" can't be used; use 10 to 400 %\nSLOWQUICK_PAPR: there is no such setting; perhaps SLOWQUICK_PAPER, SLOWQUICK_CALL, SLOWQUICK_TEMPO")
}

// TestOnlyTheLinesThatChangeAreWritten: remarks and what can't be read stay as they are.
func TestOnlyTheLinesThatChangeAreWritten(t *testing.T) {
	folder(t)
	require.NoError(t, settings.Keep(map[string]string{"tempo": ""}))
	assert.NoFileExists(t, settings.File(), "nothing changes")
	require.NoError(t, settings.Keep(map[string]string{"tempo": "70 %", "paper": "letter"}))
	assert.Regexp(t, "^(# .*\n)+paper: letter\ntempo: 70 %\n$", file(t))
	put(t, "# paper: a4\r\nTempo: 60\r\nlanterns: lit\r\ntempo: 65 %\r\npaper: a5")
	require.NoError(t, settings.Keep(map[string]string{"tempo": "70 %", "paper": "", "lead-in": "2"}))
	assert.Equal(t, "# paper: a4\r\ntempo: 70 %\r\nlanterns: lit\r\nlead-in: 2\n", file(t))
	require.NoError(t, settings.Keep(map[string]string{"lead-in": ""}))
	assert.Equal(t, "# paper: a4\r\ntempo: 70 %\r\nlanterns: lit\r\n", file(t))
	put(t, "paper: a4")
	require.NoError(t, settings.Keep(map[string]string{"call": "yes"}))
	assert.Equal(t, "paper: a4\ncall: yes\n", file(t))
	if runtime.GOOS != "windows" { // files have no such modes there
		info, err := os.Stat(settings.File())
		require.NoError(t, err)
		assert.Equal(t, os.FileMode(0o600), info.Mode())
	}
}

// TestAFileThatCantBeReadIsNotWrittenOver.
func TestAFileThatCantBeReadIsNotWrittenOver(t *testing.T) {
	folder(t)
	large := strings.Repeat("# lanterns\n", 10_000)
	put(t, large)
	_, err := settings.Read()
	require.ErrorContains(t, err, "settings.txt is larger than")
	require.ErrorContains(t, settings.Keep(map[string]string{"paper": "a4"}), "settings.txt is larger than")
	assert.Equal(t, large, file(t))
}

// TestSettingsKeptAtTheSameTime by several programs are all kept.
func TestSettingsKeptAtTheSameTime(t *testing.T) {
	folder(t)
	names := []string{"paper", "tempo", "lead-in", "partner", "show", "call", "voice-level", "clicks-level", "song-level"}
	var all sync.WaitGroup
	for _, name := range names {
		for range 4 {
			all.Go(func() { assert.NoError(t, settings.Keep(map[string]string{name: "1"})) })
		}
	}
	all.Wait()
	for _, name := range names {
		assert.Equal(t, 1, strings.Count(file(t), "\n"+name+": 1\n"), name)
	}
}

// TestWhatWasKeptEarlier, in other files, holds until there is this one, and then stands in it.
func TestWhatWasKeptEarlier(t *testing.T) {
	folder(t)
	earlier := func(name, text string) {
		require.NoError(t, os.MkdirAll(filepath.Dir(settings.File()), 0o700))
		require.NoError(t, os.WriteFile(filepath.Join(filepath.Dir(settings.File()), name), []byte(text), 0o600))
	}
	earlier("levels.json", `{"voice": 0.25, "song": 7, "lute": 0.5}`)
	earlier("choices.json", `{"cautions seen": 1, "names aloud": 1, "pause after": 0.2}`)
	v := read(t)
	assert.Empty(t, v.Findings)
	assert.Equal(t, settings.Value{Text: "25 %", From: "kept earlier"}, v.Of("voice-level"))
	assert.Equal(t, "100 %", v.Of("song-level").Text)
	assert.True(t, v.Is(settings.Call, "yes"))
	assert.Zero(t, v.Of("pause-after"), "what makes no sense")
	require.NoError(t, settings.Keep(map[string]string{"voice-level": "50 %"}))
	assert.Equal(t, "call: yes\nvoice-level: 50 %\nsong-level: 100 %\n", file(t))
}

// TestOnlyLevelsThatWereChangedAreKept: another program may have changed the others since. Those of a partner who
// isn't shown were never heard.
func TestOnlyLevelsThatWereChangedAreKept(t *testing.T) {
	folder(t)
	put(t, "voice-level: 80 %\nleader-level: 30 %\n")
	leader := [2]bool{true, false}
	began := read(t).Levels(leader)
	want := player.DefaultLevels(leader)
	want[player.VoiceLayer], want[player.LeaderLayer] = 0.8, 0.3
	assert.Equal(t, want, began)
	now := began
	now[player.ClickLayer], now[player.FollowerLayer] = 0.75, 0.2
	assert.Equal(t, map[string]string{"clicks-level": "75 %"}, settings.LevelsChanged(began, now, leader))
	assert.Empty(t, settings.LevelsChanged(audio.Levels{}, audio.Levels{}, leader))
}

// TestThePaperOfTheLocale is that of the GNU C Library's locales, wherever they are installed, and goes before
// what is built in only.
func TestThePaperOfTheLocale(t *testing.T) {
	folder(t)
	for _, c := range []struct{ all, category, lang, want, from string }{
		{"", "", "", "", ""},
		{"", "en_US.UTF-8", "de_DE.UTF-8", "letter", "LC_PAPER"},
		{"de_AT.UTF-8@euro", "en_US.UTF-8", "", "a4", "LC_ALL"},
		{"", "", "fr_CA", "letter", "LANG"},
		{"C.UTF-8", "en_US.UTF-8", "", "", ""},
	} {
		t.Setenv("LC_ALL", c.all)
		t.Setenv("LC_PAPER", c.category)
		t.Setenv("LANG", c.lang)
		assert.Equal(t, settings.Value{Text: c.want, From: c.from}, read(t).Of("paper"), c)
	}
	t.Setenv("LC_ALL", "en_US.UTF-8")
	put(t, "paper: a4\n")
	assert.Equal(t, "settings.txt, line 1", read(t).Of("paper").From)
}

// TestThePaperOfEachCountry is that of the GNU C Library's locales.
//
// Source: the library's locales/, LC_PAPER.
func TestThePaperOfEachCountry(t *testing.T) {
	const library = "/usr/share/i18n/locales"
	locales, _ := filepath.Glob(library + "/[a-z]*_[A-Z][A-Z]")
	if len(locales) == 0 {
		t.Skip("the locales of the GNU C Library aren't here")
	}
	folder(t)
	section := regexp.MustCompile(`(?s)\nLC_PAPER\n(.*?)\nEND LC_PAPER`)
	copied := regexp.MustCompile(`copy +"([^"]+)"`)
	height := func(locale string) string {
		for range 9 {
			text, err := os.ReadFile(filepath.Join(library, locale))
			require.NoError(t, err)
			paper := section.FindSubmatch(text)
			require.NotNil(t, paper, locale)
			c := copied.FindSubmatch(paper[1])
			if c == nil {
				return regexp.MustCompile(`height +([0-9]+)`).FindStringSubmatch(string(paper[1]))[1]
			}
			locale = string(c[1])
		}
		return ""
	}
	for _, path := range locales {
		locale := filepath.Base(path)
		t.Setenv("LC_PAPER", locale)
		assert.Equal(t, map[string]string{"297": "a4", "279": "letter"}[height(locale)], read(t).Of("paper").Text, locale)
	}
}

// TestNamesAndVariables: each setting has its own, and says what it is and takes.
func TestNamesAndVariables(t *testing.T) {
	seen := map[string]bool{}
	for _, s := range settings.All() {
		assert.False(t, seen[routine.Key(s.Name)], s.Name)
		seen[routine.Key(s.Name)] = true
		assert.Regexp(t, "^SLOWQUICK_[A-Z_]+$", s.Variable())
		for what, text := range map[string]string{"meaning": s.Meaning, "usual": s.Usual, "takes": s.Takes} {
			assert.NotEmpty(t, text, fmt.Sprint(s.Name, " ", what))
		}
		for _, word := range s.Words() {
			got, err := s.Read(word)
			require.NoError(t, err)
			assert.Equal(t, word, got)
		}
	}
}

// FuzzFile: what is found stands inside the file, and what is kept can be read back, whatever was there before.
func FuzzFile(f *testing.F) {
	f.Add("paper: a5\n# Lantern Night\nlead-in: 2\r\ntempo 70")
	f.Add("paper: a4\npaper: letter\n\xff: \x1b[2J")
	folder(f)
	f.Fuzz(func(t *testing.T, text string) {
		put(t, text)
		v, err := settings.Read()
		if err != nil {
			return // too large
		}
		for _, found := range v.Findings {
			assert.True(t, 0 <= found.Span.Start.Offset && found.Span.Start.Offset <= found.Span.End.Offset && found.Span.End.Offset <= len(text), found)
		}
		require.NoError(t, settings.Keep(map[string]string{"paper": "letter", "tempo": ""}))
		assert.True(t, read(t).Is("paper", "letter"))
		assert.Zero(t, read(t).Of("tempo"))
	})
}
