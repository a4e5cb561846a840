package drawing_test

import (
	"flag"
	"os"
	"testing"
)

// TestMain has each random test draw a quarter of the usual cases, as each draws figures; THOROUGH=1 draws
// all of them, and -rapid.checks another number.
func TestMain(m *testing.M) {
	if os.Getenv("THOROUGH") == "" {
		if err := flag.Set("rapid.checks", "25"); err != nil {
			panic(err)
		}
	}
	m.Run()
}
