// Package songs finds the song of a sheet, its beats and the dances it suits.
//
// The beats are those the dancer gave for the song's sound, wherever its file is now, or else
// those package music hears; what was heard is remembered, as listening takes seconds. The
// package plays nothing and draws nothing: player dances a timeline to a [Song], and
// player/screen lets the dancer correct it.
//
// Begin with [Book] for the song of a sheet, and with [Ear] for the dances of a song.
package songs
