// Package calling has the names of figures spoken ahead of time and hands them to the transport.
//
// A dancer may want names at any time, and saying one takes a speech program a while. So a
// [Caller] stands between the screen and the transport: [Caller.Serve] returns a [Transport]
// that embeds [player.Transport] and intercepts two of its methods, Set, to see whether names
// are wanted, and Replace, to see which figures are danced. The package doesn't decide when a
// name is heard (player.Course does) and doesn't speak (audio/speech and audio/voice do).
//
// Begin with [NewCaller]; files, which are written at once, need only [All].
package calling
