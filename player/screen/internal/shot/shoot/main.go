// Program shoot draws files of screens, such as golden files, as pictures:
//
//	go run ./player/screen/internal/shot/shoot -light -into /tmp player/screen/testdata/*.golden
package main

import (
	"flag"
	"fmt"
	"image/png"
	"os"
	"path/filepath"

	"dance.example/slowquick/player/screen/internal/shot"
)

func main() {
	light := flag.Bool("light", false, "draw on white")
	into := flag.String("into", ".", "the folder for the pictures")
	flag.Parse()
	for _, file := range flag.Args() {
		if err := shoot(file, *into, *light); err != nil {
			fmt.Fprintf(os.Stderr, "shoot: error: %v\n", err)
			os.Exit(3)
		}
	}
}

// shoot draws a file into a folder.
func shoot(file, into string, light bool) error {
	text, err := os.ReadFile(file)
	if err != nil {
		return fmt.Errorf("read the screen: %w", err)
	}
	img, err := shot.Draw(string(text), light)
	if err != nil {
		return fmt.Errorf("draw %s: %w", file, err)
	}
	to, err := os.Create(filepath.Join(into, filepath.Base(file)+".png"))
	if err != nil {
		return fmt.Errorf("write the picture: %w", err)
	}
	if err := png.Encode(to, img); err != nil {
		_ = to.Close() // the other error says more
		return fmt.Errorf("write the picture: %w", err)
	}
	return to.Close()
}
