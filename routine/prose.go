package routine

// Markdown is the text of a sheet below its front matter, with every byte where it
// was: what stands above is blank.
func Markdown(src []byte) []byte {
	_, body := frontMatter(src)
	return body
}
