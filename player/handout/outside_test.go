//go:build outside

package handout_test

import (
	"bytes"
	"context"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"math"
	"net/http"
	"net/http/httptest"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"
	"unicode"

	"github.com/gopxl/beep/v2/wav"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/audio"
	"dance.example/slowquick/player"
	"dance.example/slowquick/player/drawing"
	"dance.example/slowquick/player/handout"
	"dance.example/slowquick/player/handout/captions"
	"dance.example/slowquick/player/handout/folders"
	"dance.example/slowquick/player/handout/midi"
	"dance.example/slowquick/player/internal/pdfread"
	"dance.example/slowquick/player/picture"
	"dance.example/slowquick/routine/floor"
)

// These tests have programs that are not ours read what we write: midicsv, fluidsynth and a sound font,
// flac, sox, ffmpeg, lame, opusenc, pdfinfo, pdftotext and pdftoppm, qpdf, ImageMagick, Chromium, and axe-core and html-validate from the folder
// node_modules that $NODE_MODULES names. See .ci/run.

// run runs a program and returns its output.
func run(t *testing.T, name string, args ...string) string {
	t.Helper()
	ctx, cancel := context.WithTimeout(t.Context(), time.Minute)
	defer cancel()
	var out, errOut bytes.Buffer
	cmd := exec.CommandContext(ctx, name, args...)
	cmd.Stdout, cmd.Stderr = &out, &errOut
	require.NoError(t, cmd.Run(), "%s: %s%s", name, out.String(), errOut.String())
	return out.String()
}

// written writes a file with f and returns its path.
func written(t *testing.T, name string, f func(*bytes.Buffer) error) string {
	t.Helper()
	var out bytes.Buffer
	require.NoError(t, f(&out))
	path := filepath.Join(t.TempDir(), name)
	require.NoError(t, os.WriteFile(path, out.Bytes(), 0o600))
	return path
}

// TestMidicsvReadsTheTimeline: the markers, tempi, clicks and lyrics that it finds are on the times of
// the timeline.
func TestMidicsvReadsTheTimeline(t *testing.T) {
	for name, timeline := range routines(t) {
		path := written(t, "track.mid", func(out *bytes.Buffer) error { return midi.Write(out, timeline, wholeRoutine()) })
		r := csv.NewReader(strings.NewReader(run(t, "midicsv", path)))
		r.FieldsPerRecord, r.TrimLeadingSpace, r.LazyQuotes = -1, true, true
		records, err := r.ReadAll()
		require.NoError(t, err, name)
		number := func(text string) float64 {
			n, err := strconv.Atoi(text)
			require.NoError(t, err)
			return float64(n)
		}
		var tempi [][2]float64 // tick, microseconds a quarter note
		var markers, clicks []float64
		division := 0.0
		for _, rec := range records {
			switch rec[2] {
			case "Header":
				assert.Equal(t, "1", rec[3], "format")
				division = number(rec[5])
			case "Tempo":
				tempi = append(tempi, [2]float64{number(rec[1]), number(rec[3])})
			case "Marker_t":
				markers = append(markers, number(rec[1]))
			case "Note_on_c":
				assert.Equal(t, "9", rec[3], "%s: channel 10, counted from 0", name)
				if rec[0] == "2" {
					assert.Contains(t, []string{"76", "77", "69"}, rec[4], name)
					clicks = append(clicks, number(rec[1]))
				}
			}
		}
		seconds := func(tick float64) (s float64) {
			for i, tempo := range tempi {
				end := tick
				if i+1 < len(tempi) {
					end = min(end, tempi[i+1][0])
				}
				if end > tempo[0] {
					s += (end - tempo[0]) * tempo[1] / 1e6 / division
				}
			}
			return s
		}
		lead := leadIn(timeline)
		require.Len(t, markers, len(timeline.Score.Passages), name)
		for i, tick := range markers {
			assert.InDelta(t, lead+timeline.Seconds(timeline.Score.Passages[i].Start), seconds(tick), 1e-4, name)
		}
		clicks = clicks[len(clicks)-len(timeline.Events):]
		for i, tick := range clicks {
			assert.InDelta(t, lead+timeline.Seconds(timeline.Events[i].At), seconds(tick), 1e-4, name)
		}
	}
}

// soundFont is where Debian's packages install one.
const soundFont = "/usr/share/sounds/sf2/default-GM.sf2"

// TestFluidsynthPlaysTheClicks: something strikes within a few milliseconds of each beat
// (a synthesiser renders in blocks of 64 frames, and a wood block takes a moment to sound).
func TestFluidsynthPlaysTheClicks(t *testing.T) {
	timeline := lantern(t)
	timeline.Score.Rhythm.Strokes = nil // so that only clicks sound
	path := written(t, "track.mid", func(out *bytes.Buffer) error { return midi.Write(out, timeline, wholeRoutine()) })
	sound := filepath.Join(t.TempDir(), "track.wav")
	run(t, "fluidsynth", "-ni", "-q", "-R", "0", "-C", "0", "-g", "1", "-F", sound, "-r", "44100", soundFont, path)
	f, err := os.Open(sound)
	require.NoError(t, err)
	defer f.Close()
	s, format, err := wav.Decode(f)
	require.NoError(t, err)
	samples := make([][2]float64, s.Len())
	n, _ := s.Stream(samples)
	require.Equal(t, s.Len(), n)
	loudest := func(from, to float64) (peak float64) {
		for i := max(0, int(from*float64(format.SampleRate))); i < min(n, int(to*float64(format.SampleRate))); i++ {
			peak = max(peak, math.Abs(samples[i][0]))
		}
		return peak
	}
	lead := leadIn(timeline)
	for i, e := range timeline.Events {
		at := lead + timeline.Seconds(e.At)
		assert.Greater(t, loudest(at-0.002, at+0.020), 3*loudest(at-0.030, at-0.004), "event %d, at %.3f s", i, at)
	}
}

// TestOthersDecodeTheTracks: flac and sox find the same samples in both, ffprobe their length.
func TestOthersDecodeTheTracks(t *testing.T) {
	timeline := lantern(t)
	for _, bits := range []int{16, 24} {
		track := handout.ClickTrack{Options: wholeRoutine(), Sounds: everything(), Levels: player.DefaultLevels([2]bool{true, true}), Rate: 44100, Bits: bits}
		track.Sounds = player.Sounds{Kit: audio.NewKit(44100)}
		packed := written(t, "track.flac", func(out *bytes.Buffer) error { return track.FLAC(out, timeline) })
		plain := written(t, "track.wav", func(out *bytes.Buffer) error { return track.WAV(out, timeline) })
		run(t, "flac", "--test", "--silent", "--warnings-as-errors", packed)
		raw := func(path string) string {
			return run(t, "sox", path, "-t", "raw", "-e", "signed", "-b", strconv.Itoa(bits), "-")
		}
		assert.True(t, raw(plain) == raw(packed), "sox decodes the same samples")
		for _, path := range []string{packed, plain} {
			length, err := strconv.ParseFloat(strings.TrimSpace(run(t, "ffprobe", "-v", "error", "-show_entries", "format=duration", "-of", "csv=p=0", path)), 64)
			require.NoError(t, err)
			assert.InDelta(t, leadIn(timeline)+timeline.Seconds(timeline.End)+0.5, length, 0.001)
		}
	}
}

// chromium loads a page and returns it as it is once its scripts have run.
func chromium(t *testing.T, address string, args ...string) string {
	t.Helper()
	args = append([]string{"--headless", "--no-sandbox", "--disable-gpu", "--user-data-dir=" + t.TempDir(), "--virtual-time-budget=20000"}, args...)
	return run(t, "chromium", append(args, address)...)
}

// result reads what a script left in the element "result".
func result(t *testing.T, page string, into any) {
	t.Helper()
	doc := parsePage(t, []byte(page))
	for _, pre := range doc.all("pre") {
		if pre.attr("id") == "result" {
			require.NotNil(t, pre.FirstChild, "the script left nothing")
			require.NoError(t, json.Unmarshal([]byte(pre.FirstChild.Data), into))
			return
		}
	}
	require.FailNow(t, "no result", page)
}

const cuesPage = `<!doctype html><pre id="result"></pre><video id="film"></video><script>
const film = document.getElementById("film"), all = {}, kinds = {counts: "captions", steps: "subtitles", figures: "chapters"};
for (const name in kinds) {
	const track = document.createElement("track");
	track.kind = kinds[name]; track.src = name + ".vtt"; track.srclang = "en"; track.label = name;
	track.onerror = () => { all[name] = null; done(); };
	track.onload = () => { all[name] = Array.from(track.track.cues, c => [c.startTime, c.endTime, c.getCueAsHTML().textContent]); done(); };
	film.appendChild(track);
	track.track.mode = "hidden";
}
function done() { if (Object.keys(all).length == 3) document.getElementById("result").textContent = JSON.stringify(all); }
</script>`

// TestABrowserLoadsTheCaptions in track elements: the cues are those that were written.
func TestABrowserLoadsTheCaptions(t *testing.T) {
	text := hostile["arrow"] + hostile["script"]
	_, timeline := named(t, text)
	sheets := map[string]*player.Timeline{"hostile": timeline, "cha-cha": lantern(t)}
	for name, timeline := range sheets {
		server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
			k := slices.Index(captions.Names[:], strings.TrimSuffix(strings.TrimPrefix(r.URL.Path, "/"), ".vtt"))
			if k < 0 {
				fmt.Fprint(w, cuesPage)
				return
			}
			w.Header().Set("Content-Type", "text/vtt")
			_ = captions.Kind(k).WebVTT(w, timeline, wholeRoutine()) // the comparison below finds what is missing
		}))
		defer server.Close()
		var loaded map[string][][3]any
		result(t, chromium(t, server.URL, "--dump-dom"), &loaded)
		for k, of := range captions.Names {
			want := vtt(t, captions.Kind(k), timeline, wholeRoutine())
			require.Len(t, loaded[of], len(want), "%s: %s", name, of)
			for i, cue := range want {
				assert.InDelta(t, cue.from, loaded[of][i][0], 1e-6)
				assert.InDelta(t, cue.to, loaded[of][i][1], 1e-6)
				assert.Equal(t, cue.text, loaded[of][i][2])
			}
		}
	}
}

// TestThePagePrints on A4 and Letter: on as many pages as expected, each figure on one, and few of them
// blank.
func TestThePagePrints(t *testing.T) {
	for _, c := range []struct {
		sheet, size string
		paper       handout.Paper
		large       bool
		pages       int // give or take one, as fonts differ between machines
	}{
		{"lantern-night-waltz", "594.96 x 841.92 pts (A4)", handout.A4, false, 5},
		{"lantern-night-waltz", "612 x 792 pts (letter)", handout.Letter, false, 5},
		{"lantern-night-cha-cha", "594.96 x 841.92 pts (A4)", handout.A4, false, 5},
		{"lantern-night-waltz", "594.96 x 841.92 pts (A4)", handout.A4, true, 19},
	} {
		text := sheetTexts(t)[c.sheet]
		o := wholeRoutine()
		o.Paper, o.Large = c.paper, c.large
		source := page(t, text, o)
		path := written(t, "handout.html", func(out *bytes.Buffer) error { _, err := out.Write(source); return err })
		pdf := filepath.Join(t.TempDir(), "handout.pdf")
		chromium(t, "file://"+path, "--no-pdf-header-footer", "--print-to-pdf="+pdf)
		info := run(t, "pdfinfo", pdf)
		assert.Regexp(t, `Page size: +`+regexp.QuoteMeta(c.size), info)
		number := regexp.MustCompile(`Pages: +(\d+)`).FindStringSubmatch(info)
		require.NotNil(t, number)
		printed, err := strconv.Atoi(number[1])
		require.NoError(t, err)
		assert.InDelta(t, c.pages, printed, 1, "%s, %s, large %v", c.sheet, c.size, c.large)
		pages := strings.Split(strings.TrimSuffix(run(t, "pdftotext", "-raw", pdf, "-"), "\f"), "\f")
		for i, p := range pages {
			assert.Contains(t, p, fmt.Sprintf("page %d of %d", i+1, printed))
		}
		if c.large {
			continue // a figure may be longer than a page
		}
		assertFilled(t, pdf, printed-1, c.sheet, c.size)
		for _, f := range class(parsePage(t, source).all("section"), "figure") {
			caption := strings.Fields(f.one(t, "figcaption").text())
			on := func(text string) (on []int) {
				for i, p := range pages {
					if strings.Contains(strings.Join(strings.Fields(p), " "), text) {
						on = append(on, i)
					}
				}
				return on
			}
			names, captions := on(f.one(t, "h3").text()+" Starts "), on(strings.Join(caption, " "))
			require.NotEmpty(t, names)
			assert.Subset(t, captions, names, "%s begins and ends on one page", f.one(t, "h3").text())
		}
	}
}

// policy is what keeps a page from running a test's script.
var policy = regexp.MustCompile(`<meta http-equiv="Content-Security-Policy"[^>]*>`)

// assertFilled asserts that of the first pages of a PDF less than 15 % is blank, on average.
func assertFilled(t *testing.T, pdf string, pages int, about ...any) {
	t.Helper()
	if blank := blankShare(t, pdf, pages); assert.NotEmpty(t, blank) {
		all := 0.0
		for _, share := range blank {
			all += share / float64(len(blank))
		}
		assert.Less(t, all, 0.15, "%v: blank shares %.2f", about, blank)
	}
}

// blankShare returns how much of the first pages of a PDF is blank: of strips of 8 mm across what is
// within the margins, those without ink.
func blankShare(t *testing.T, pdf string, pages int) (list []float64) {
	t.Helper()
	const dots = 40 / 25.4 // a millimetre
	out := strings.TrimSuffix(pdf, ".pdf")
	run(t, "pdftoppm", "-gray", "-r", "40", "-l", strconv.Itoa(pages), pdf, out)
	files, err := filepath.Glob(out + "-*.pgm")
	require.NoError(t, err)
	for _, name := range files {
		text, err := os.ReadFile(name)
		require.NoError(t, err)
		var wide, high, most int
		_, err = fmt.Sscanf(string(text[:30]), "P5\n%d %d\n%d", &wide, &high, &most)
		require.NoError(t, err)
		dot := text[len(text)-wide*high:]
		blank, all := 0, 0
		for y := 12 * dots; y+8*dots < float64(high)-14*dots; y += 8 * dots {
			all++
			strip := dot[int(y)*wide : int(y+8*dots)*wide]
			if !slices.ContainsFunc(strip, func(b byte) bool { return b < 200 }) {
				blank++
			}
		}
		list = append(list, float64(blank)/float64(all))
	}
	return list
}

// TestOthersReadThePDF: qpdf finds no fault in it, pdftotext all of its text in its order, with the letters that
// its fonts lack, and pdftoppm paints each page.
func TestOthersReadThePDF(t *testing.T) {
	for _, name := range []string{"lantern-night-waltz", "right to left"} {
		text := sheetTexts(t)[name]
		line := (*player.Timeline)(nil)
		if text == "" {
			text, line = named(t, hostile[name])
		} else {
			line = timeline(t, text)
		}
		o := wholeRoutine()
		o.Paper = handout.Letter
		source := writtenPDF(t, "", handout.Sheet{Text: []byte(text), Line: line, Options: o})
		path := written(t, "handout.pdf", func(out *bytes.Buffer) error { _, err := out.Write(source); return err })
		run(t, "qpdf", "--check", path) // fails for a warning, too
		info := run(t, "pdfinfo", path)
		assert.Regexp(t, `Tagged: +yes`, info)
		assert.Regexp(t, `Page size: +612 x 792 pts \(letter\)`, info)
		doc := pdfread.Read(t, source)
		assert.Regexp(t, fmt.Sprintf(`Pages: +%d\n`, len(doc.Pages)), info)
		found := strings.Split(run(t, "pdftotext", "-raw", "-enc", "UTF-8", path, "-"), "\f")
		for i, p := range doc.Pages {
			has := sortedLetters(found[i])
			assert.Equal(t, sortedLetters(strings.Join(p.Lines, "")), has, "%s, page %d", name, i+1)
		}
		if name != "right to left" { // whose words others turn round
			assert.Contains(t, strings.Join(strings.Fields(found[0]), " "), "Lantern Night waltz Dance Waltz · Metre 3/4 · Tempo 29 bars/min")
			assertFilled(t, path, len(doc.Pages)-1, name)
		}
		run(t, "pdftoppm", "-r", "20", "-gray", path, strings.TrimSuffix(path, ".pdf"))
		pages, err := filepath.Glob(strings.TrimSuffix(path, ".pdf") + "-*.pgm")
		require.NoError(t, err)
		require.Len(t, pages, len(doc.Pages))
		for _, page := range pages {
			assert.Less(t, mean(t, page), 0.999, "%s has ink", page)
		}
	}
}

// TestPagesOfAPDFAreFilled: of every sheet's pages but the last less than 15 % is blank on average, and of none of them a
// quarter; of a class book's after its cover, too.
func TestPagesOfAPDFAreFilled(t *testing.T) {
	var all []handout.Sheet
	for name, text := range sheetTexts(t) {
		if name == "late" {
			continue // of one page
		}
		given := handout.Sheet{Text: []byte(text), Line: timeline(t, text), Options: wholeRoutine()}
		all = append(all, given)
		for _, paper := range []handout.Paper{handout.A4, handout.Letter} {
			given.Options.Paper = paper
			source := writtenPDF(t, "", given)
			path := written(t, "handout.pdf", func(out *bytes.Buffer) error { _, err := out.Write(source); return err })
			blank := blankShare(t, path, max(1, len(pdfread.Read(t, source).Pages)-1))
			sum := 0.0
			for _, share := range blank {
				assert.Less(t, share, 0.25, "%s, %s: %.2f", name, handout.Papers[paper], blank)
				sum += share
			}
			assert.Less(t, sum/float64(len(blank)), 0.15, "%s, %s: %.2f", name, handout.Papers[paper], blank)
			t.Logf("%s, %s: %.2f", name, handout.Papers[paper], blank)
		}
	}
	slices.SortFunc(all, func(a, b handout.Sheet) int { return strings.Compare(a.Line.Score.Title, b.Line.Score.Title) })
	source := writtenPDF(t, "Boathouse evenings", all...)
	path := written(t, "book.pdf", func(out *bytes.Buffer) error { _, err := out.Write(source); return err })
	blank := blankShare(t, path, len(pdfread.Read(t, source).Pages)-1)[1:]
	sum := 0.0
	for _, share := range blank {
		sum += share
	}
	assert.Less(t, sum/float64(len(blank)), 0.15, "%.2f", blank)
	t.Logf("the book: %.2f", blank)
}

// sortedLetters returns the letters of a text that are no spaces, in order of their numbers.
func sortedLetters(text string) string {
	letters := []rune(strings.Join(strings.Fields(strings.Map(func(r rune) rune {
		if unicode.Is(unicode.Cf, r) { // marks by which others say that text turns round
			return -1
		}
		return r
	}, text)), ""))
	slices.Sort(letters)
	return string(letters)
}

// mean returns how light a picture is, as ImageMagick reads it: from 0 to 1.
func mean(t *testing.T, picture string) float64 {
	f, err := strconv.ParseFloat(run(t, "convert", picture, "-colorspace", "gray", "-format", "%[fx:mean]", "info:"), 64)
	require.NoError(t, err)
	return f
}

// TestOthersReadPictures: ImageMagick finds a drawing as large as it is on paper, and each frame of one that moves.
func TestOthersReadPictures(t *testing.T) {
	key := drawing.Key([2]bool{true, true}, 180)
	still := written(t, "key.png", func(out *bytes.Buffer) error { return picture.PNG(out, &key, 0) })
	density := strings.Fields(run(t, "identify", "-units", "PixelsPerInch", "-format", "%w %x", still))
	wide, err := strconv.ParseFloat(density[0], 64)
	require.NoError(t, err)
	perInch, err := strconv.ParseFloat(density[1], 64)
	require.NoError(t, err)
	assert.InDelta(t, key.Size.X, wide/perInch*25.4, 0.2)
	assert.Less(t, mean(t, still), 0.99)
	moving := written(t, "moving.gif", func(out *bytes.Buffer) error {
		return picture.GIF(out, 3, func(i int) drawing.Drawing { return key.Moved(floor.Point{X: float64(i)}) }, 5, 300)
	})
	frames := strings.Fields(run(t, "identify", "-format", "%T ", moving))
	assert.Equal(t, []string{"5", "5", "5"}, frames)
	run(t, "convert", moving, "-coalesce", strings.TrimSuffix(moving, ".gif")+"-%d.png")
	assert.InDelta(t, mean(t, still), mean(t, strings.TrimSuffix(moving, ".gif")+"-0.png"), 0.01)
}

// TestAxeFindsNoFault: accessibility at phone and laptop width, dark and light, of a handout, of one
// partner's steps, of a book and of an index page.
func TestAxeFindsNoFault(t *testing.T) {
	axe, err := os.ReadFile(filepath.Join(os.Getenv("NODE_MODULES"), "axe-core", "axe.min.js"))
	require.NoError(t, err)
	pages := map[string][]byte{}
	for _, name := range []string{"lantern-night-waltz", "bronze-tango", "late"} {
		pages[name] = page(t, sheetTexts(t)[name], wholeRoutine())
	}
	side := wholeRoutine()
	side.Shown, side.Large = [2]bool{false, true}, true
	pages["side"] = page(t, sheetTexts(t)["lantern-night-rumba"], side)
	for _, name := range []string{"many letters", "right to left"} {
		var out bytes.Buffer
		text, timeline := named(t, hostile[name])
		require.NoError(t, handout.HTML(&out, "", handout.Sheet{Text: []byte(text), Line: timeline, Options: wholeRoutine()}))
		pages[name] = out.Bytes()
	}
	var book bytes.Buffer
	sheet := func(name string) handout.Sheet {
		text := sheetTexts(t)[name]
		return handout.Sheet{Text: []byte(text), Line: timeline(t, text), Options: wholeRoutine()}
	}
	require.NoError(t, handout.HTML(&book, "Lantern Night", sheet("lantern-night-waltz"), sheet("lantern-night-rumba")))
	pages["book"] = book.Bytes()
	var index bytes.Buffer
	require.NoError(t, folders.Index{Title: "Lantern Night", Parts: []folders.IndexPart{{Title: "Waltz", Dance: "Waltz", Files: []folders.IndexFile{{Path: "a.html", What: "a page"}}}}}.HTML(&index))
	pages["index"] = index.Bytes()
	var cards bytes.Buffer
	require.NoError(t, handout.LargeCards.HTML(&cards, sheet("lantern-night-cha-cha")))
	pages["cards"] = cards.Bytes()
	pages["playing"] = playAlong(t, lantern(t), wholeRoutine())
	if testing.Short() { // one of each kind
		for _, name := range []string{"bronze-tango", "late", "many letters", "right to left"} {
			require.Contains(t, pages, name)
			delete(pages, name)
		}
	}
	for name, source := range pages {
		for dark, width := range map[bool]string{true: "390", false: "1280"} {
			text := policy.ReplaceAllString(string(source), "")
			if dark {
				text = strings.Replace(text, "@media screen and (prefers-color-scheme:dark)", "@media screen", 1)
			}
			text = strings.Replace(text, "</body>", `<script>`+string(axe)+`</script><script>
axe.run(document, {resultTypes: ["violations"]}).then(r => {
	const pre = document.createElement("pre"); pre.id = "result";
	pre.textContent = JSON.stringify({passes: r.passes.length, wide: document.documentElement.scrollWidth - innerWidth, faults: r.violations.map(v => v.id + ": " + v.help + " " + v.nodes[0].html)});
	document.body.appendChild(pre);
});</script></body>`, 1)
			require.Contains(t, text, "axe.run")
			server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, _ *http.Request) { fmt.Fprint(w, text) }))
			defer server.Close()
			var found struct {
				Passes, Wide int
				Faults       []string
			}
			result(t, chromium(t, server.URL, "--dump-dom", "--window-size="+width+",900"), &found)
			assert.Empty(t, found.Faults, "%s, dark %v, %s wide", name, dark, width)
			assert.Greater(t, found.Passes, 10, "it has looked")
			assert.LessOrEqual(t, found.Wide, 0, "%s at %s is wider than the screen", name, width)
		}
	}
}

// TestAValidatorFindsNoFault: the pages conform to the HTML standard.
func TestAValidatorFindsNoFault(t *testing.T) {
	var files []string
	for name, text := range sheetTexts(t) {
		files = append(files, written(t, name+".html", func(out *bytes.Buffer) error {
			_, err := out.Write(page(t, text, wholeRoutine()))
			return err
		}))
	}
	for _, text := range hostile {
		sheet, timeline := named(t, text)
		given := handout.Sheet{Text: []byte(sheet), Line: timeline, Options: wholeRoutine()}
		files = append(files, written(t, "hostile.html", func(out *bytes.Buffer) error { return handout.HTML(out, text, given, given) }))
	}
	files = append(files, written(t, "playing.html", func(out *bytes.Buffer) error {
		_, err := out.Write(playAlong(t, lantern(t), wholeRoutine()))
		return err
	}))
	files = append(files, written(t, "index.html", func(out *bytes.Buffer) error { return folders.Index{Title: "Lantern Night"}.HTML(out) }))
	run(t, filepath.Join(os.Getenv("NODE_MODULES"), ".bin", "html-validate"), append([]string{"--preset", "standard"}, files...)...)
}
