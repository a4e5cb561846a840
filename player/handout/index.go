package handout

import (
	_ "embed"
	"fmt"
	"html/template"
	"io"
)

//go:embed index.html
var indexText string

var indexTemplate = template.Must(template.New("index").Parse(indexText))

// Index is what an index page lists: the handouts of some sheets.
type Index struct {
	Title string
	Parts []IndexPart
}

// IndexPart is what there is of one sheet, or of all together.
type IndexPart struct {
	Title, Dance string
	Files        []IndexFile
	Note         string
}

// IndexFile is a file, by its path from the index page.
type IndexFile struct{ Path, What string }

// HTML writes the index page.
func (x Index) HTML(w io.Writer) error {
	page := struct {
		Index
		Style template.CSS
	}{x, style(A4)}
	if err := indexTemplate.Execute(w, page); err != nil {
		return fmt.Errorf("write index: %w", err)
	}
	return nil
}
