package main

import (
	"math"

	"dance.example/slowquick/player/screen/term"
)

// table sets rows in columns. At a terminal those in wrapping are wrapped to fit; if that is not enough, the
// cells of narrow, which says the same in fewer columns, stand below each other from the column from on.
func (a *app) table(rows [][]string, wrapping []int, narrow [][]string, from int) []string {
	if !a.atTerminal() {
		return term.Table(rows, nil, math.MaxInt)
	}
	if lines := term.Table(rows, wrapping, a.columns()); lines != nil {
		return lines
	}
	return term.Stack(narrow, from, a.columns())
}
