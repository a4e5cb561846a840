package recording

import "errors"

// ErrKind says that files of a kind can't be read.
var ErrKind = errors.New("only WAV, FLAC, Ogg Vorbis and MP3 can be read; convert it to FLAC")

// ErrBits says that a FLAC file has too many bits a sample.
var ErrBits = errors.New("FLAC is read up to 24 bits a sample; convert it to 16 or 24")
