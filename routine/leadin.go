package routine

import (
	"errors"
	"fmt"
	"strconv"
)

// The bars that are counted before the dance: of a sheet that doesn't say how many, and the most there can be.
const (
	UsualLeadIn = 1
	MostLeadIn  = 4
)

// LeadIn returns how many bars are counted before the dance.
func (s *Sheet) LeadIn() int { return UsualLeadIn + s.leadIn }

// The words for bars and counts in other languages, and for no lead-in, are from memory.
var leadInPattern = lazily(`(?i)^\s*(?:(none|no|keiner|keine|aucun|aucune|ninguno|ninguna|nessuno|nessuna)|(\d{1,4})\s*(?:(?:bars?|measures?|` + foreignBars + `)|(counts?|beats?|schläge|temps|tiempos|tempi))?)\s*$`)

const leadInHint = "write the bars that are counted before the dance, 0 to 4: lead-in: 2 bars"

// ParseLeadIn reads a lead-in, as in "2 bars", "2", "8 counts" or "none", and returns its bars. Counts must fill bars
// of the metre. The error says what text is not: "is not a lead-in".
func ParseLeadIn(text string, metre Metre) (bars int, err error) {
	m := leadInPattern.FindStringSubmatch(text)
	if m == nil {
		return 0, errors.New("is not a lead-in")
	}
	if m[1] != "" {
		return 0, nil
	}
	bars, _ = strconv.Atoi(m[2]) // at most four digits
	if m[3] != "" {
		if bars%metre.Beats != 0 {
			return 0, fmt.Errorf("does not fill bars of %s", Plural(metre.Beats, "beat"))
		}
		bars /= metre.Beats
	}
	if bars > MostLeadIn {
		return 0, fmt.Errorf("is more than %s", Plural(MostLeadIn, "bar"))
	}
	return bars, nil
}
