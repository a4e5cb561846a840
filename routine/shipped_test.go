package routine_test

import (
	"sync"

	"dance.example/slowquick/library"
)

// shipped returns the library that ships with the program, opened once: to read a chapter takes as long
// as most tests.
var shipped = sync.OnceValue(library.Open)
