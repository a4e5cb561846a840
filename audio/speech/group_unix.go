//go:build unix

package speech

import (
	"errors"
	"os"
	"os/exec"
	"syscall"
)

// endsWhole makes a program, when its context ends, end with everything it has started. The function
// that it returns does the same for what is left when the program has ended by itself.
func endsWhole(cmd *exec.Cmd) (end func()) {
	cmd.SysProcAttr = &syscall.SysProcAttr{Setpgid: true}
	cmd.Cancel = func() error {
		err := syscall.Kill(-cmd.Process.Pid, syscall.SIGKILL)
		if errors.Is(err, syscall.ESRCH) {
			err = os.ErrProcessDone
		}
		return err
	}
	return func() {
		if cmd.Process != nil {
			_ = cmd.Cancel() // mostly there is nothing left
		}
	}
}
