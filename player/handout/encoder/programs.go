package encoder

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// ffmpeg returns how ffmpeg is asked, with the arguments of a format. Tags and chapters are in a file.
//
// Source: FFmpeg Formats Documentation, 5 "Metadata".
func ffmpeg(format ...string) func(string, *Tags, string) ([]string, error) {
	return func(to string, tags *Tags, folder string) ([]string, error) {
		var b strings.Builder
		b.WriteString(";FFMETADATA1\n")
		list, chapters := append(tags.texts(), [2]string{"tmpo", tags.tempo()}), "1"
		if slices.Contains(format, "opus") { // whose chapters ffmpeg 5.1 writes up to a second late
			list, chapters = tags.Comments(), "-1"
		}
		for _, pair := range list {
			fmt.Fprintf(&b, "%s=%s\n", pair[0], escapes.Replace(pair[1]))
		}
		for i, c := range tags.Chapters {
			fmt.Fprintf(&b, "[CHAPTER]\nTIMEBASE=1/1000\nSTART=%.0f\nEND=%.0f\ntitle=%s\n", 1000*c.From, 1000*tags.end(i), escapes.Replace(c.Name))
		}
		file := filepath.Join(folder, "tags")
		if err := os.WriteFile(file, []byte(b.String()), 0o600); err != nil {
			return nil, err
		}
		args := []string{"-v", "error", "-f", "wav", "-i", "pipe:0", "-f", "ffmetadata", "-i", file,
			"-map", "0:a", "-map_metadata", "1", "-map_chapters", chapters}
		return append(append(args, format...), to), nil
	}
}

var escapes = strings.NewReplacer("=", `\=`, ";", `\;`, "#", `\#`, `\`, `\\`)

// lame returns how LAME is asked. It is given no tags: see [id3].
func lame(to string, _ *Tags, _ string) ([]string, error) {
	return []string{"--quiet", "-V", "3", "-", to}, nil
}

// opusenc returns how opusenc is asked.
func opusenc(to string, tags *Tags, _ string) ([]string, error) {
	args := []string{"--quiet", "--bitrate", "72"}
	for _, pair := range tags.Comments() {
		args = append(args, "--comment", pair[0]+"="+pair[1])
	}
	return append(args, "-", to), nil
}
