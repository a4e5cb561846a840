// Package thorough is for tests that leave something to chance, or try many cases: all of them with
// THOROUGH=1, else a part.
//
// In a test program that imports it a random test draws a quarter of rapid's usual cases, unless all are
// asked for. -rapid.checks draws another number.
package thorough

import (
	"flag"
	"os"

	_ "pgregory.net/rapid" // has the flag
)

// Asked reports whether tests are to try all their cases.
func Asked() bool { return os.Getenv("THOROUGH") != "" }

// Flags are parsed later, and so come first.
func init() {
	if Asked() {
		return
	}
	if err := flag.Set("rapid.checks", "25"); err != nil {
		panic(err)
	}
}
