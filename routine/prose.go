package routine

// Markdown returns a sheet's text with its front matter blanked, so that every byte is where it was.
func Markdown(src []byte) []byte {
	_, body := frontMatter(src)
	return body
}
