package report

import (
	"fmt"

	"dance.example/slowquick/player/agenda"
	"dance.example/slowquick/player/harmless"
)

// Due prints the sheets that are due.
func Due(p Page, list []agenda.Sheet) {
	rows, narrow := [][]string{{"SHEET", "TITLE", "DANCE", "WHY"}}, [][]string(nil)
	for _, d := range list {
		rows = append(rows, []string{harmless.Masked(d.ID), harmless.Masked(d.Title), harmless.Masked(d.Dance), d.Due.String()})
		narrow = append(narrow, []string{harmless.Masked(d.ID), d.Due.String()})
	}
	for _, line := range p.table(rows, []int{0, 1, 3}, narrow, 0) {
		fmt.Fprintln(p, line)
	}
}

// DueSheet is what is due of a sheet, as programs read it.
type DueSheet struct {
	Sheet   string `json:"sheet"`
	Title   string `json:"title"`
	Dance   string `json:"dance"`
	Marks   int    `json:"marks"`
	Figures int    `json:"figuresDue"`
	New     int    `json:"figuresNew"`
	Days    int    `json:"daysOverdue"`
	Why     string `json:"why"`
}

// DueSheets returns what is due of sheets, as programs read it.
func DueSheets(list []agenda.Sheet) []DueSheet {
	entries := []DueSheet{}
	for _, d := range list {
		entries = append(entries, DueSheet{d.ID, d.Title, d.Dance, d.Marked, d.Figures, d.New, d.Days, d.Due.String()})
	}
	return entries
}
