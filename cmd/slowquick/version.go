package main

import (
	"fmt"
	"runtime"
	"runtime/debug"
)

// tellVersion prints what the program was built from, and what its library holds.
func (a *app) tellVersion() {
	version := "of an unknown version"
	if info, ok := debug.ReadBuildInfo(); ok && info.Main.Version != "" {
		version = info.Main.Version // a tag's; else it names the commit
	}
	chapters := a.Library.Chapters()
	figures := 0
	for _, c := range chapters {
		figures += len(c.Figures)
	}
	fmt.Fprintf(a.Out, "Slowquick %s, built with %s for %s/%s\n", version, runtime.Version(), runtime.GOOS, runtime.GOARCH)
	fmt.Fprintf(a.Out, "%d figures of %d dances in the library\n", figures, len(chapters))
}
