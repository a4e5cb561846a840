package folders

import (
	_ "embed"
	"fmt"
	"html/template"
	"io"
	"net/url"
	"path"
	"sync"

	"golang.org/x/net/html"

	"dance.example/slowquick/player/handout"
)

//go:embed index.html
var indexText string

var indexTemplate = sync.OnceValue(func() *template.Template { return template.Must(template.New("index").Parse(indexText)) })

// Index is what an index page lists: the handouts of some sheets.
type Index struct {
	Title string
	Parts []IndexPart
}

// IndexPart lists what there is of one sheet, or of all together.
type IndexPart struct {
	Title, Dance string
	Files        []IndexFile
	Note         string
}

// IndexFile is a file, by its path relative to the index page, with slashes.
type IndexFile struct {
	Path, What string
	Sum        string // the SHA-256 of what was written, in hexadecimal; may be empty
}

// URL returns the path as a link has it.
func (f IndexFile) URL() string { return (&url.URL{Path: f.Path}).String() }

// Sum sets the files' sums, which are keyed by path.
func (x *Index) Sum(sums map[string]string) {
	for _, p := range x.Parts {
		for i := range p.Files {
			p.Files[i].Sum = sums[p.Files[i].Path]
		}
	}
}

// ReadIndex returns the files of an index page that have sums.
func ReadIndex(r io.Reader) (files []IndexFile) {
	for page := html.NewTokenizer(r); page.Next() != html.ErrorToken; {
		var f IndexFile
		for _, attr := range page.Token().Attr {
			switch attr.Key {
			case "href":
				if link, err := url.Parse(attr.Val); err == nil {
					f.Path = path.Clean(link.Path)
				}
			case "data-sha256":
				f.Sum = attr.Val
			}
		}
		if f.Path != "" && f.Sum != "" {
			files = append(files, f)
		}
	}
	return files
}

// HTML writes the index page.
func (x Index) HTML(w io.Writer) error {
	page := struct {
		Index
		Style template.CSS
	}{x, handout.Style(handout.A4, "")}
	if err := indexTemplate().Execute(w, page); err != nil {
		return fmt.Errorf("write index: %w", err)
	}
	return nil
}
