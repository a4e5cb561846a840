//go:build !unix

package speech

import "os/exec"

// endsWhole does nothing here: a program ends alone.
func endsWhole(*exec.Cmd) (end func()) { return func() {} }
