//go:build unix

package cli

import (
	"os"
	"syscall"
)

// lock waits for the file and keeps others out until it is closed.
func lock(f *os.File) error { return syscall.Flock(int(f.Fd()), syscall.LOCK_EX) }
