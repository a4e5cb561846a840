// Package term writes text into a window's columns: rows that hold clean text
// and end where the window does, tables, bars, a theme, large letters, lines of
// keys, lists to choose from by typing and pages to read on in.
//
// It keeps text from elsewhere harmless: whatever a sheet says, no control
// character reaches the terminal through a [Row]. It knows nothing of dancing
// or of what is on a screen; each screen joins its own lines.
//
// Begin with [Row], which writes one line, and [Join], which makes a screen of
// lines. [Chooser] and [Page] are small models: their Press methods take a key.
package term

import _ "dance.example/slowquick/player/screen/internal/quiet" // before bubbletea
