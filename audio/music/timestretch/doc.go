// Package timestretch plays recorded sound slower or faster at the same pitch.
//
// [New] finds the attacks of a recording once. [Source.Stretch] takes a [Tempo],
// which is a list of anchors (recorded frame, wanted frame), and returns the sound
// at that tempo, nothing of it planned yet. [Stretched.Plan] plans ahead and takes
// time; [Stretched.Render] is a pure function of the frame, takes no lock and
// allocates nothing. What has been planned never changes. The package knows no
// beats; whoever wants them kept puts anchors on them.
//
// # How it works
//
// The result is a list of splices. The recording is read at its own speed, and
// where the tempo asks for it the reading jumps back (slower) or ahead (faster),
// cross-faded where the sound before and after the jump is most alike.
//
//   - Attacks are rises of energy over all of the 30 ms before, so beats between
//     the notes of a chord are not taken for attacks. The 14 ms after an attack are
//     never repeated or skipped, so no attack is doubled, lost or torn.
//   - The jumps between two attacks (8 to 65 ms each) are chosen together, by
//     dynamic programming over their places and what is then still due (search.go).
//     A jump costs the difference of what it cross-fades (match.go), weaker attacks
//     heard twice, anything heard three times, and distance from its place, above
//     all at an anchor. If more than a millisecond is still due at an attack, a 4 ms
//     splice that the attack masks makes it up.
//   - A jump fades over up to 50 ms, less where there would be no room to stay on
//     time. Partials out of phase would cancel and come back, which is heard as an
//     onset, so each is turned from its old phase to the new on the way (join.go).
//     The planner does this and keeps the result: at 75 % about two fifths of the
//     memory of the song.
//   - Where something is repeated, each of three bands is made as loud as at the
//     place the map gives (bands.go). Without that, a decaying note would be struck
//     again by each jump.
//   - The list is also the map between the two times (In, Out). It ascends
//     strictly, is exact to the frame wherever the sound is heard once, and runs
//     evenly through what is repeated. Whatever shows the song's beats must go
//     through this map, not through the speed.
//
// Reading on with jumps to where the waves are alike is WSOLA: Verhelst and
// Roelands, "An overlap-add technique based on waveform similarity (WSOLA)",
// ICASSP 1993. That attacks must be left alone is in Driedger and Müller, "A
// Review of Time-Scale Modification of Music Signals", Applied Sciences 6 (2016)
// 57. Choosing jumps together, evening out the loudness and turning the phases are
// our own.
//
// # How well it does
//
// The constants were set on tuningSeeds (go test -tags tuning -run Tuning -v); the
// tests judge by judgingSeeds. Look at those only to judge, and take new ones once
// you have learnt from them. rivals.sh installs programs that do the same work, and
// go test -tags rivals -run Rivals -v ./audio/music/timestretch runs them on the
// same signals. Of tonal quality, only what lies outside the partials of some held
// chords is measured.
package timestretch
