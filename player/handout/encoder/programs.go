package encoder

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
)

// ffmpeg returns how ffmpeg is asked, with the arguments of a format. Tags and chapters are in a file.
//
// Source: FFmpeg Formats Documentation, 5 "Metadata".
func ffmpeg(format ...string) func(string, *Tags, string) ([]string, error) {
	return func(to string, tags *Tags, folder string) ([]string, error) {
		var b strings.Builder
		b.WriteString(";FFMETADATA1\n")
		list, chapters := comments(tags, "tmpo"), "1"
		if slices.Contains(format, "opus") { // whose chapters ffmpeg 5.1 writes up to a second late
			list, chapters = append(list, chapterComments(tags)...), "-1"
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

// comments returns the tags as keys and values, with the tempo under two keys: that of Vorbis
// comments, and another.
func comments(tags *Tags, tempo string) (list [][2]string) {
	list = [][2]string{{"title", tags.Title}, {"genre", tags.Genre}, {"comment", tags.Comment}}
	if tags.Tempo > 0 {
		text := strconv.Itoa(int(tags.Tempo + 0.5))
		list = append(list, [2]string{"BPM", text}, [2]string{tempo, text})
	}
	return list
}

// lame returns how LAME is asked. It is given no tags: see [id3].
func lame(to string, _ *Tags, _ string) ([]string, error) {
	return []string{"--quiet", "-V", "3", "-", to}, nil
}

// opusenc returns how opusenc is asked.
func opusenc(to string, tags *Tags, _ string) ([]string, error) {
	args := []string{"--quiet", "--bitrate", "72"}
	for _, pair := range append(comments(tags, "TEMPO"), chapterComments(tags)...) {
		args = append(args, "--comment", pair[0]+"="+pair[1])
	}
	return append(args, "-", to), nil
}

// chapterComments returns the chapters as Vorbis comments, as players know them; common practice.
func chapterComments(tags *Tags) (list [][2]string) {
	for i, c := range tags.Chapters {
		key, ms := fmt.Sprintf("CHAPTER%03d", i), int(1000*c.From+0.5)
		list = append(list, [2]string{key, fmt.Sprintf("%02d:%02d:%02d.%03d", ms/3600000, ms/60000%60, ms/1000%60, ms%1000)}, [2]string{key + "NAME", c.Name})
	}
	return list
}
