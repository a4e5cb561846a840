package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// onDisk is a program of the tests: onDisk full|read-only FOLDER ARGUMENT… carries out a command line in FOLDER, which is
// a disk that has no room or can't be written to by then, and lists what lies there afterwards. Nobody else sees the disk.
func onDisk() {
	if err := spoilDisk(os.Args[1], os.Args[2]); err != nil {
		fmt.Fprintln(os.Stderr, "no disk:", err)
		os.Exit(noDisk)
	}
	cmd := exec.Command("/proc/self/exe")
	cmd.Args = append([]string{"slowquick"}, os.Args[3:]...)
	cmd.Dir, cmd.Stdout, cmd.Stderr = os.Args[2], os.Stdout, os.Stderr
	_ = cmd.Run() // its code tells
	_ = filepath.WalkDir(os.Args[2], func(path string, d fs.DirEntry, err error) error {
		if err == nil && !d.IsDir() {
			info, _ := d.Info()
			name, _ := filepath.Rel(os.Args[2], path)
			fmt.Printf("left: %s %d\n", name, info.Size())
		}
		return nil
	})
	os.Exit(cmd.ProcessState.ExitCode())
}

// noDisk is the exit code where disks can't be mounted.
const noDisk = 99

// spoilDisk mounts a disk on a folder, with the files that were in it.
func spoilDisk(how, folder string) error {
	before := os.DirFS(folder)
	kept, err := os.MkdirTemp("", "kept")
	if err == nil {
		err = os.CopyFS(kept, before)
	}
	if err != nil {
		return err
	}
	defer os.RemoveAll(kept)
	if err := syscall.Mount("none", folder, "tmpfs", 0, "size=512k"); err != nil {
		return err
	}
	if err := os.CopyFS(folder, os.DirFS(kept)); err != nil {
		return err
	}
	if how == "read-only" {
		return syscall.Mount("none", folder, "tmpfs", syscall.MS_REMOUNT|syscall.MS_RDONLY, "")
	}
	lanterns, err := os.Create(filepath.Join(folder, "lanterns"))
	if err != nil {
		return err
	}
	for chunk := make([]byte, 4096); err == nil; {
		_, err = lanterns.Write(chunk)
	}
	if !errors.Is(err, syscall.ENOSPC) {
		return err
	}
	return lanterns.Close()
}

// TestADiskThatTakesNothing, as it is full or read-only: what only reads works, what dances says that nothing is kept,
// and what writes says so, and leaves everything as it was.
func TestADiskThatTakesNothing(t *testing.T) {
	t.Parallel()
	const untidy = "---\ndance: cha-cha\ntitle: Boathouse evening\n---\n\n## Order\n\n1. Closed basic x 2\n"
	writes := map[string][]string{
		"settings": {"settings", "paper", "letter"}, "tidy": {"tidy", "untidy.md"}, "page": {"write", "handout", "quick.md", "-o", "page.html"},
		"track": {"write", "wav", "quick.md", "-o", "track.wav"}, "all": {"write", "all", "quick.md", "-o", "evening"}, "new": {"new", "waltz", "-o", "waltz.md"},
		"class": {"class", "Lantern Night", "--had", "quick.md"}, "pause": {"settings", "--forget", "tempo"},
	}
	reads := map[string][]string{
		"check": {"check", "lantern-night-waltz"}, "figures": {"figures", "--dance", "waltz"}, "list": {"practise", "quick.md", "--list"}, "diary": {"diary"},
		"settings list": {"settings"}, "to a pipe": {"write", "handout", "quick.md", "-o", "-"},
	}
	for _, how := range []string{"full", "read-only"} {
		lies := map[string]string{"full": "no space left on device", "read-only": "read-only file system"}[how]
		carryOut := func(t *testing.T, args []string) (code int, out, errs string, left []string) {
			dir := t.TempDir()
			for name, text := range map[string]string{"quick.md": jetty, "untidy.md": untidy, "config/slowquick/settings.txt": "tempo: 200 %\nlead-in: 0\n"} {
				putFile(t, dir, name, text)
			}
			require.NoError(t, keepIn(dir+"/config", "choices", `{"cautions seen": 1}`))
			cmd := inFolder(dir, append([]string{how, dir}, args...)...)
			cmd.Args[0] = "on-disk"
			cmd.SysProcAttr = &syscall.SysProcAttr{Unshareflags: syscall.CLONE_NEWNS}
			cmd.Env = append(cmd.Env, "XDG_DATA_HOME="+dir+"/data", "XDG_CACHE_HOME="+dir+"/cache")
			var o, e strings.Builder
			cmd.Stdout, cmd.Stderr = &o, &e
			if err := cmd.Run(); cmd.ProcessState == nil || cmd.ProcessState.ExitCode() == noDisk {
				t.Skipf("disks can't be mounted here: %v %s", err, e.String())
			}
			for line := range strings.Lines(o.String()) {
				if name, ok := strings.CutPrefix(line, "left: "); ok && !strings.HasPrefix(name, "lanterns ") && !strings.HasSuffix(name, "/lock 0\n") {
					left = append(left, strings.TrimSpace(name))
				}
			}
			return cmd.ProcessState.ExitCode(), o.String(), e.String(), left
		}
		asItWas := func(t *testing.T, left []string) {
			assert.Equal(t, []string{
				"config/slowquick/choices.json 20", "config/slowquick/settings.txt 24", fmt.Sprint("quick.md ", len(jetty)), fmt.Sprint("untidy.md ", len(untidy)),
			}, left)
		}
		for name, args := range writes {
			t.Run(how+", writes: "+name, func(t *testing.T) {
				t.Parallel()
				code, _, errs, left := carryOut(t, args)
				assert.Equal(t, exitFailed, code, errs)
				assert.Contains(t, errs, lies)
				asItWas(t, left)
			})
		}
		for name, args := range reads {
			t.Run(how+", reads: "+name, func(t *testing.T) {
				t.Parallel()
				code, out, errs, left := carryOut(t, args)
				assert.Equal(t, exitOK, code, errs)
				assert.NotEmpty(t, out)
				asItWas(t, left)
			})
		}
		t.Run(how+", dances", func(t *testing.T) {
			t.Parallel()
			code, out, errs, _ := carryOut(t, []string{"dance", "quick.md", "--plain", "--silent"})
			assert.Equal(t, exitOK, code, errs)
			assert.Contains(t, out, "RF half close")
			assert.Contains(t, out+errs, "nothing is being kept")
		})
	}
}
