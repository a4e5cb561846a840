package raster_test

import (
	"flag"
	"os"
	"testing"
)

// TestMain has each random test draw a quarter of the usual cases; all of them
// with THOROUGH=1, or so many as -rapid.checks says.
func TestMain(m *testing.M) {
	if os.Getenv("THOROUGH") == "" {
		if err := flag.Set("rapid.checks", "25"); err != nil {
			panic(err)
		}
	}
	m.Run()
}
