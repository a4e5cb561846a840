package handout_test

import (
	"bytes"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/extension"
	mdhtml "github.com/yuin/goldmark/renderer/html"

	"dance.example/slowquick/player"
	"dance.example/slowquick/player/handout"
	"dance.example/slowquick/player/handout/captions"
	"dance.example/slowquick/player/handout/folders"
	"dance.example/slowquick/player/handout/smf"
	"dance.example/slowquick/player/internal/pdfread"
	"dance.example/slowquick/routine"
)

// hostile are texts that mean something in one format or another.
var hostile = map[string]string{
	"script":        `<script>alert("x")</script>`,
	"quotes":        `"double" 'single' \back\ &amp; & ; , :`,
	"arrow":         "00:00:01.000 --> 00:00:02.000 {b}x{/b} -->",
	"comment":       "<!-- x --> ]]> </style></title></svg><img src=x onerror=alert(1)>",
	"link":          "[here](javascript:alert(1)) ![x](http://river.example/y) <http://river.example>",
	"emoji":         "Lantern 🏮 night 👩🏽‍🤝‍👨🏿",
	"right to left": "ליל הפנסים ليلة الفوانيس",
	"many letters":  strings.Repeat("lantern", 1429)[:10000],
	"template":      `{{.Title}} {{"x"}} ${x} %s %d`,
	"calendar":      "END:VEVENT\\nBEGIN:VEVENT;X,Y",
	"table":         "a | b | c",
	"backslash":     `\<script>alert(1)</script> \[x](y) \&lt; \| \\`,
}

// hostileSheet returns a sheet with a text in every place that takes one.
func hostileSheet(text string) string {
	title := "title: '" + strings.ReplaceAll(text, "'", "''") + "'\n---\n\n"
	if len(text) > 1000 { // more than the front matter may have
		title = "---\n\n# " + text + "\n\n"
	}
	return "---\ndance: waltz\n" + title + text + "\n\n## Order\n\n1. Pier wait — " + text + "\n\n## Pier wait\n\n" +
		"- also called: " + strings.ReplaceAll(text, ",", "") + "\n- source: " + text + "\n\n" +
		"| Count | Leader | Follower |\n|---|---|---|\n| 1 | LF side (" + noted(text) + ") | RF side |\n| 2-3 | RF close | LF close |\n"
}

// noted returns a text as a note in a cell.
func noted(text string) string {
	return strings.NewReplacer("|", "/", "(", "", ")", "").Replace(text[:min(len(text), 1000)])
}

// named returns the routine with a figure that has a text as its name, as other books may.
func named(t *testing.T, text string) (string, *player.Timeline) {
	sheet := hostileSheet(text)
	score, found := routine.Read("sheet.md", []byte(sheet), shipped)
	require.False(t, routine.HasErrors(found), "%v", found)
	require.Equal(t, strings.Join(strings.Fields(text), " "), strings.Join(strings.Fields(score.Title), " "))
	score.Figures[0].Name = text
	return sheet, player.NewTimeline(score)
}

// TestTextStaysText: whatever a sheet says comes out of every kind as text: none of it becomes markup,
// another cue or another property, and none is cut off.
func TestTextStaysText(t *testing.T) {
	for name, text := range hostile {
		t.Run(name, func(t *testing.T) {
			sheet, timeline := named(t, text)
			o := wholeRoutine()
			given := handout.Sheet{Text: []byte(sheet), Line: timeline, Options: o}
			words := strings.Join(strings.Fields(text), " ")

			var out bytes.Buffer
			require.NoError(t, handout.HTML(&out, text, given))
			doc := parsePage(t, out.Bytes())
			assert.Equal(t, words, doc.one(t, "h1").text())
			assert.Equal(t, words, doc.one(t, "h3").text())
			assert.Equal(t, words, doc.one(t, "head").one(t, "title").text())
			assert.Contains(t, class(doc.all("div"), "plan")[0].attr("aria-label"), text)
			for _, element := range []string{"script", "img", "form", "b"} {
				assert.Empty(t, doc.all(element))
			}
			for _, a := range doc.all("a") {
				assert.True(t, strings.HasPrefix(a.attr("href"), "#"))
			}
			require.NoError(t, handout.HTML(&out, text, given, given), "a book")
			var index bytes.Buffer
			require.NoError(t, folders.Index{Title: text, Parts: []folders.IndexPart{{Title: text, Dance: text, Files: []folders.IndexFile{{Path: "x.html", What: text}}}}}.HTML(&index))
			assert.Equal(t, words, parsePage(t, index.Bytes()).one(t, "h1").text())
			assert.Empty(t, parsePage(t, index.Bytes()).all("script"))

			out.Reset()
			require.NoError(t, handout.LargeCards.HTML(&out, given))
			doc = parsePage(t, out.Bytes())
			assert.Equal(t, words, doc.all("h2")[0].text())
			assert.Empty(t, doc.all("script"))
			out.Reset()
			require.NoError(t, handout.SmallCards.PDF(&out, given))
			assert.Equal(t, strings.ReplaceAll(words, " ", ""), strings.ReplaceAll(tagged(pdfread.Read(t, out.Bytes()), "H1")[0], " ", ""))

			paper := pdfread.Read(t, writtenPDF(t, "", given))
			solid := strings.ReplaceAll(words, " ", "") // a long word goes over to the next line
			for _, tag := range []string{"H1", "H3"} {
				assert.Equal(t, solid, strings.ReplaceAll(strings.Join(tagged(paper, tag), ""), " ", ""))
			}

			played := playAlong(t, timeline, o)
			doc = parsePage(t, played)
			assert.Equal(t, words, doc.one(t, "h1").text())
			assert.Equal(t, words, class(doc.all("section"), "figure")[0].one(t, "h2").text())
			assert.Len(t, doc.all("script"), 2)
			assert.Empty(t, doc.all("img"))
			assert.Equal(t, "1", followedBy(t, played).Counts[3].Said)

			for _, k := range []captions.Kind{captions.Counts, captions.Steps, captions.Figures} {
				cues := vtt(t, k, timeline, o)
				assert.Equal(t, cues, srt(t, k, timeline, o))
				want := map[captions.Kind]int{captions.Counts: 6, captions.Steps: 4, captions.Figures: 2}[k]
				require.Len(t, cues, want)
				if k == captions.Figures {
					assert.Equal(t, text, cues[1].text)
				}
			}

			file := midiOf(t, timeline, o)
			assert.Equal(t, []string{timeline.Score.Title}, texts(file.tracks[0], smf.Name))
			assert.Equal(t, []string{text}, texts(file.tracks[0], smf.Marker))

			out.Reset()
			require.NoError(t, handout.JSON(&out, timeline, o))
			assert.True(t, utf8.Valid(out.Bytes()))

			out.Reset()
			require.NoError(t, handout.Calendar(&out, text, handout.Plan{Sheet: given, Practice: lanternEvenings()}))
			evenings := readPlan(t, out.String())
			require.Len(t, evenings, 8)
			assert.Equal(t, timeline.Score.Title+": "+text, evenings[0].summary)

			rows, _, tabbed := tables(t, handout.Charts, timeline, o)
			assert.Equal(t, 3, len(rows))
			assert.Equal(t, 3, strings.Count(tabbed, "\n"))

			out.Reset()
			require.NoError(t, handout.Text(&out, given))
			assert.True(t, strings.HasPrefix(out.String(), timeline.Score.Title+"\n==="))

			out.Reset()
			require.NoError(t, handout.Markdown(&out, given))
			reread, again := routine.Read("sheet.md", out.Bytes(), shipped)
			assert.False(t, routine.HasErrors(again), "%v", again)
			// A program that lets tags through would show none.
			var shown bytes.Buffer
			require.NoError(t, goldmark.New(goldmark.WithExtensions(extension.Table), goldmark.WithRendererOptions(mdhtml.WithUnsafe())).Convert(reread.Markdown(), &shown))
			seen := parsePage(t, shown.Bytes())
			for _, element := range []string{"script", "img", "a", "style", "svg"} {
				assert.Empty(t, seen.all(element), out.String())
			}
			assert.Equal(t, words, seen.all("h1")[0].text())
		})
	}
}
