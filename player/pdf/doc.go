// Package pdf writes drawings and text as PDF (ISO 32000-1): with the letters embedded, so that text can be
// searched, copied and read aloud in any script; with a structure of headings, paragraphs, tables and
// pictures for screen readers; and without a clock, so that the same pages are the same bytes.
//
// A [Document] has pages and elements. What a page draws belongs to the element that [Page.Mark] named last,
// or to none, as a footer. Lengths are in millimetres, from a page's upper left corner.
package pdf
