package program

import (
	"cmp"
	"fmt"
	"os"
	"runtime"
	"strings"
)

// Lacks says in plain words why a terminal can't show a screen; "" if it can.
func Lacks() string {
	switch term := os.Getenv("TERM"); {
	case term == "dumb", term == "" && runtime.GOOS != "windows":
		return fmt.Sprintf("the terminal is TERM=%q", term)
	case !InUTF8():
		return fmt.Sprintf("the locale %s has no UTF-8, as LANG=C.UTF-8 has", locale())
	}
	return ""
}

// locale returns the locale of characters; "" if none is set.
//
// Source: POSIX.1-2024, 8.2: LC_ALL goes before LC_CTYPE, and that before LANG.
func locale() string {
	return cmp.Or(os.Getenv("LC_ALL"), os.Getenv("LC_CTYPE"), os.Getenv("LANG"))
}

// InUTF8 reports whether a terminal takes more than ASCII. It does unless the locale says
// otherwise, as "C" or "de_DE.ISO-8859-1" do.
func InUTF8() bool {
	name, _, _ := strings.Cut(locale(), "@")
	name, letters, told := strings.Cut(name, ".")
	if !told {
		return name != "C" && name != "POSIX" // nowadays all others are
	}
	letters = strings.ReplaceAll(strings.ToLower(letters), "-", "")
	return letters == "utf8"
}
