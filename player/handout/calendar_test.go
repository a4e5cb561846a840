package handout_test

import (
	"bytes"
	"fmt"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	ics "github.com/arran4/golang-ical"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"dance.example/slowquick/player/handout"
)

var friday = time.Date(2026, 11, 27, 0, 0, 0, 0, time.UTC)

// lanternEvenings are on Fridays and Mondays for four weeks.
func lanternEvenings() handout.Practice {
	return handout.Practice{From: friday, Until: friday.AddDate(0, 0, 27), Days: []time.Weekday{time.Friday, time.Monday},
		At: 19*time.Hour + 30*time.Minute, Length: 45 * time.Minute, Made: time.Date(2026, 11, 20, 12, 0, 0, 0, time.UTC)}
}

// planned is an evening as another calendar library reads it.
type planned struct{ id, start, length, summary, description string }

func readPlan(t testing.TB, text string) (evenings []planned) {
	t.Helper()
	cal, err := ics.ParseCalendar(strings.NewReader(text))
	require.NoError(t, err)
	for _, e := range cal.Events() {
		value := func(name ics.ComponentProperty) string {
			require.NotNil(t, e.GetProperty(name), name)
			return e.GetProperty(name).Value
		}
		evenings = append(evenings, planned{e.Id(), value(ics.ComponentPropertyDtStart), value(ics.ComponentPropertyDuration),
			value(ics.ComponentPropertySummary), value(ics.ComponentPropertyDescription)})
	}
	return evenings
}

func plan(t testing.TB, text string, o handout.Options, when handout.Practice) (evenings []planned, raw string) {
	t.Helper()
	var out strings.Builder
	require.NoError(t, handout.Calendar(&out, "Lantern Night", handout.Plan{Sheet: handout.Sheet{Text: []byte(text), Line: timeline(t, text), Options: o}, Practice: when}))
	return readPlan(t, out.String()), out.String()
}

// TestThePlanIsReadByAnother: another calendar library finds the evenings.
func TestThePlanIsReadByAnother(t *testing.T) {
	for name, text := range sheetTexts(t) {
		evenings, raw := plan(t, text, wholeRoutine(), lanternEvenings())
		require.Len(t, evenings, 8, name)
		ids := map[string]bool{}
		for i, e := range evenings {
			day := friday.AddDate(0, 0, []int{0, 3, 7, 10, 14, 17, 21, 24}[i])
			assert.Equal(t, day.Format("20060102")+"T193000", e.start)
			assert.Equal(t, "PT45M", e.length)
			assert.False(t, ids[e.id], "an identity twice")
			ids[e.id] = true
		}
		// RFC 5545, 3.1: lines end in CR LF and have at most 75 octets.
		for line := range strings.Lines(raw) {
			assert.True(t, strings.HasSuffix(line, "\r\n"))
			assert.LessOrEqual(t, len(line)-2, 75)
			assert.True(t, utf8.ValidString(line), "%q", line)
		}
	}
}

// TestThePlanLeadsToTheWhole: first slowly in parts, each joined to what is known, then the whole,
// faster and faster up to the tempo.
func TestThePlanLeadsToTheWhole(t *testing.T) {
	text := sheetTexts(t)["lantern-night-cha-cha"]
	evenings, _ := plan(t, text, wholeRoutine(), lanternEvenings())
	var subjects, tempi []string
	for _, e := range evenings {
		subjects = append(subjects, strings.TrimPrefix(e.summary, "Lantern Night cha-cha: "))
		first, _, _ := strings.Cut(e.description, "\n")
		tempi = append(tempi, first)
	}
	assert.Equal(t, []string{"Closed basic to New York to the left side", "New York to the right side to Boathouse step", "Closed basic to Spot turn to the left", "Time step to Boathouse step",
		"the whole routine", "the whole routine", "the whole routine", "the whole routine"}, subjects)
	assert.Equal(t, []string{"Tempo: 19.6 bars/min (70 %)", "Tempo: 19.6 bars/min (70 %)", "Tempo: 19.6 bars/min (70 %)", "Tempo: 19.6 bars/min (70 %)",
		"Tempo: 19.6 bars/min (70 %)", "Tempo: 22.4 bars/min (80 %)", "Tempo: 25.2 bars/min (90 %)", "Tempo: 28 bars/min (100 %)"}, tempi)
	second := evenings[1].description
	assert.Contains(t, second, "\n2. New York to the left side: two three cha cha cha\n3. New York to the right side: ")
	assert.NotContains(t, second, "1. Closed basic")
}

// TestAnyNumberOfEvenings: from one to more than there are figures, all figures are learnt and the last
// evening is the whole at its tempo.
func TestAnyNumberOfEvenings(t *testing.T) {
	text := sheetTexts(t)["lantern-night-waltz"]
	for n := 1; n <= 60; n++ {
		when := lanternEvenings()
		when.Days, when.Until = nil, friday.AddDate(0, 0, n-1)
		evenings, _ := plan(t, text, wholeRoutine(), when)
		require.Len(t, evenings, n)
		all := ""
		for _, e := range evenings {
			all += e.description
		}
		last := evenings[n-1].description
		assert.Contains(t, last, "Tempo: 29 bars/min (100 %)")
		for i := range 13 {
			assert.Contains(t, last, fmt.Sprintf("\n%d. ", i+1))
			assert.Contains(t, all, fmt.Sprintf("\n%d. ", i+1))
		}
	}
	when := lanternEvenings()
	when.Until = when.From.AddDate(0, 0, -1)
	assert.ErrorContains(t, handout.Calendar(&bytes.Buffer{}, "", handout.Plan{Sheet: handout.Sheet{Text: []byte(text), Line: timeline(t, text), Options: wholeRoutine()}, Practice: when}), "no evening")
	when.Days, when.Until = nil, when.From.AddDate(10, 0, 0)
	assert.ErrorContains(t, handout.Calendar(&bytes.Buffer{}, "", handout.Plan{Sheet: handout.Sheet{Text: []byte(text), Line: timeline(t, text), Options: wholeRoutine()}, Practice: when}), "more than 1000 evenings")
}

func TestDaysOfTheWeek(t *testing.T) {
	days, err := handout.ParseDays("mon, Thursday su")
	require.NoError(t, err)
	assert.Equal(t, []time.Weekday{time.Monday, time.Thursday, time.Sunday}, days)
	for _, bad := range []string{"m", "lantern", "mondays"} {
		_, err := handout.ParseDays(bad)
		assert.ErrorContains(t, err, "is not a day of the week", bad)
	}
}

// TestAPlanHasANameAndAlarms, as another calendar library reads them; without an alarm if none is wanted.
func TestAPlanHasANameAndAlarms(t *testing.T) {
	text := sheetTexts(t)["lantern-night-cha-cha"]
	when := lanternEvenings()
	when.Remind = 90 * time.Minute
	_, raw := plan(t, text, wholeRoutine(), when)
	cal, err := ics.ParseCalendar(strings.NewReader(raw))
	require.NoError(t, err)
	names := map[string]string{}
	for _, p := range cal.CalendarProperties {
		names[p.IANAToken] = p.Value
	}
	assert.Equal(t, "Lantern Night", names["NAME"])
	assert.Equal(t, "Lantern Night", names["X-WR-CALNAME"])
	for _, e := range cal.Events() {
		require.Len(t, e.Alarms(), 1)
		alarm := e.Alarms()[0]
		assert.Equal(t, "-PT90M", alarm.GetProperty(ics.ComponentPropertyTrigger).Value)
		assert.Equal(t, "DISPLAY", alarm.GetProperty(ics.ComponentPropertyAction).Value)
		assert.Equal(t, e.GetProperty(ics.ComponentPropertySummary).Value, alarm.GetProperty(ics.ComponentPropertyDescription).Value)
	}
	_, raw = plan(t, text, wholeRoutine(), lanternEvenings())
	assert.NotContains(t, raw, "VALARM")
}

// TestSheetsOfOneTitleKeepTheirOwnEvenings: no evening takes another's place.
func TestSheetsOfOneTitleKeepTheirOwnEvenings(t *testing.T) {
	text := sheetTexts(t)["lantern-night-cha-cha"]
	turns, fits := lanternEvenings().InTurn(2)
	require.True(t, fits)
	var plans []handout.Plan
	for _, when := range turns {
		plans = append(plans, handout.Plan{Sheet: handout.Sheet{Text: []byte(text), Line: timeline(t, text), Options: wholeRoutine()}, Practice: when})
	}
	var out strings.Builder
	require.NoError(t, handout.Calendar(&out, "Lantern Night", plans...))
	evenings := readPlan(t, out.String())
	require.Len(t, evenings, 16)
	ids := map[string]bool{}
	for _, e := range evenings {
		ids[e.id] = true
	}
	assert.Len(t, ids, 16)
	assert.Equal(t, "20261127T201500", evenings[8].start, "after the first sheet's")
	alone, _ := plan(t, text, wholeRoutine(), lanternEvenings())
	assert.Equal(t, alone, evenings[:8])
}
