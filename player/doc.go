// Package player turns a score into a timeline and moves along it in time: what
// is counted and stepped on each beat, the frame on which it is heard, and where
// the couple is on the frame heard now.
//
//   - A [Timeline] is a routine's events in beats, and its tempo.
//   - A [Course] says, for every frame, what sounds and where the couple is. It is
//     immutable: a change returns a new course, the same up to the frame of the
//     change and different from there on. So a seek, any buffer size and the screen
//     all agree.
//   - A [Transport] starts, holds and changes the course that is heard.
//
// Begin with [NewTimeline], then [NewCourse] and [Course.At]. Nothing here draws,
// reads files or opens a sound device.
//
// # How a routine is danced to a song
//
//   - [Timeline.To] gives a timeline the song's beats for a tempo: each beat is a
//     section with a length of its own, and one second of the timeline is one second
//     of the song. To a course, a song is one more tempo, and every law holds with
//     it. The bars before the first step, and rests, are the song's own beats.
//   - A tempo asked for in bars or beats a minute ([Settings.Tempo]) is the one that is
//     heard, with a song or without. A percentage is of the tempo of what leads, the
//     song or else the sheet ([Timeline.OwnTempo]).
//   - Course.playbacks returns the frames through which the song plays without a jump,
//     where in the song they begin, and how fast they go.
//   - [Accompaniment] plays those beside the clicks, on a layer of its own. It
//     stretches the song 20 s ahead of what is heard, on a goroutine of the
//     transport, and at a change the next quarter of a second at once. Where a change
//     does not jump, the old sound and the new cross-fade over 10 ms. What is not
//     planned in time is silent and joins later.
//   - A step falls where the tempo says its beat is, not where the stretched song's
//     map says, as that is known only once it is planned. To make both agree, the
//     song keeps its own speed between two anchors, up to 15 ms before and after each
//     place where steps may fall (besideStep), and the attack there is not stretched.
package player
