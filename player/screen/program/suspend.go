package program

// Suspender is a model that has something to do before the program is stopped.
type Suspender interface {
	// Suspend returns what to do. It is called between updates, and what it returns
	// on another goroutine, which waits for it.
	Suspend() func()
}
