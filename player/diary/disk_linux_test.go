package diary_test

import (
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"syscall"
	"testing"

	"github.com/stretchr/testify/require"

	"dance.example/slowquick/player/diary"
)

func init() { roles["small disk"], roles["read-only disk"] = fillDisk, readOnly }

// onItsOwnDisk starts a program that may mount disks which nobody else sees. The test is skipped where
// that is not allowed.
func onItsOwnDisk(t *testing.T, role string) *exec.Cmd {
	t.Helper()
	dir := t.TempDir()
	cmd := play(role, filepath.Join(dir, "diary.db"))
	cmd.SysProcAttr = &syscall.SysProcAttr{Unshareflags: syscall.CLONE_NEWNS}
	probe := play("nothing", dir)
	probe.SysProcAttr = cmd.SysProcAttr
	if err := probe.Run(); err != nil {
		t.Skipf("disks can't be mounted here: %v", err)
	}
	return cmd
}

func init() {
	roles["nothing"] = func(dir string) int {
		if err := mount(dir); err != nil {
			return 1
		}
		return 0
	}
}

// mount mounts a disk of 2 MB on a folder.
func mount(dir string) error {
	return syscall.Mount("none", dir, "tmpfs", 0, "size=2m")
}

// fillDisk keeps run-throughs until the disk is full, and reads them when there is room again.
func fillDisk(path string) int {
	dir := filepath.Dir(path)
	if err := mount(dir); err != nil {
		fmt.Fprintln(os.Stderr, err)
		return 1
	}
	if code := keepUntilFull(path); code != 0 {
		return code
	}
	if err := syscall.Mount("none", dir, "tmpfs", syscall.MS_REMOUNT, "size=4m"); err != nil {
		fmt.Fprintln(os.Stderr, err)
		return 1
	}
	d, err := diary.Open(path)
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		return 1
	}
	n := 0
	for _, err := range d.Entries("") {
		if err != nil {
			fmt.Fprintln(os.Stderr, err)
			return 1
		}
		n++
	}
	var sound string
	if err := d.DB().QueryRow("PRAGMA integrity_check").Scan(&sound); err != nil {
		sound = err.Error()
	}
	fmt.Println(n, sound)
	return 0
}

// TestAFullDiskOfItsOwn fills a small disk, instead of limiting the size of files.
func TestAFullDiskOfItsOwn(t *testing.T) {
	said, err := onItsOwnDisk(t, "small disk").Output()
	require.NoError(t, err, string(said))
	var acknowledged, refused, kept int
	var sound string
	_, err = fmt.Sscan(string(said), &acknowledged, &refused, &kept, &sound)
	require.NoError(t, err, string(said))
	require.Greater(t, acknowledged, 100)
	require.Equal(t, 20, refused)
	require.Equal(t, acknowledged, kept)
	require.Equal(t, "ok", sound)
}

// readOnly makes a diary on a disk and remounts the disk read-only.
func readOnly(path string) int {
	err := mount(filepath.Dir(path))
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		return 1
	}
	report := func(what string, err error) { fmt.Printf("%s: %v\n", what, err) }
	d, err := diary.Open(path)
	if err != nil {
		report("make it", err)
		return 1
	}
	report("keep", d.Begin(lantern, evening(0)).Keep(pass(evening(0), 112, "Basic")))
	report("close", d.Close())
	report("remount", syscall.Mount("none", filepath.Dir(path), "tmpfs", syscall.MS_REMOUNT|syscall.MS_RDONLY, ""))
	_, err = diary.Open(path)
	var notKept *diary.NotKept
	fmt.Println("open is refused:", errors.As(err, &notKept))
	if d, err = diary.Read(path); err != nil {
		report("read", err)
		return 1
	}
	n := 0
	for _, err := range d.Entries("") {
		if err == nil {
			n++
		}
	}
	fmt.Println("read:", n)
	fmt.Println("keep is refused:", errors.As(d.Begin(lantern, evening(1)).Keep(pass(evening(1), 112, "Basic")), &notKept))
	return 0
}

// TestAReadOnlyDisk: nothing is kept, and what was kept can be read.
func TestAReadOnlyDisk(t *testing.T) {
	said, err := onItsOwnDisk(t, "read-only disk").Output()
	require.NoError(t, err, string(said))
	require.Equal(t, "keep: <nil>\nclose: <nil>\nremount: <nil>\nopen is refused: true\nread: 1\nkeep is refused: true\n", string(said))
}
