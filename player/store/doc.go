// Package store reads and writes the small files a dancer's settings live in: choices
// and how late each loudspeaker is.
//
// Writing is all or nothing, follows links and copes with other programs doing the same, so
// whatever else writes files of the dancer's uses it too. It is not a database: the practice
// diary is in player/diary, and the beats of songs are in player/songs.
//
// Begin with [WriteWhole], then [Read] and [Keep].
package store
