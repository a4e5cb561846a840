package folders

import (
	"bufio"
	"fmt"
	"io"
	"math"

	"dance.example/slowquick/player/harmless"
)

// playlistTrack is a track of a playlist.
type playlistTrack struct {
	path, title string // the path from the playlist on, with slashes
	seconds     float64
}

// playlist writes tracks as extended M3U in UTF-8, one after the other.
//
// Source: common practice; RFC 8216, 4 describes the format where it adds to it.
func playlist(w io.Writer, title string, tracks []playlistTrack) error {
	out := bufio.NewWriter(w)
	fmt.Fprintf(out, "#EXTM3U\n#PLAYLIST:%s\n", harmless.Handout(title))
	for _, t := range tracks {
		// A path that began with # would be a remark.
		fmt.Fprintf(out, "#EXTINF:%.0f,%s\n./%s\n", math.Ceil(t.seconds), harmless.Handout(t.title), harmless.Handout(t.path))
	}
	if err := out.Flush(); err != nil {
		return fmt.Errorf("write playlist: %w", err)
	}
	return nil
}
