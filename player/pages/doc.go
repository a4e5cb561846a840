// Package pages sets text, tables and drawings on pages of paper, and writes them as a PDF.
//
// A [Book] is set from top to bottom: a [Column] turns each block into rows, which no page parts
// (column.go, table.go, lines.go); at the end the rows are shared out among pages and drawn (book.go).
package pages
