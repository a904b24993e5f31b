//go:build unix

package web

import (
	"syscall"
	"testing"
	"time"
)

// processorTime is what this process has taken of the processors so far.
func processorTime(b *testing.B) time.Duration {
	var used syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &used); err != nil {
		b.Fatal(err)
	}
	return time.Duration(used.Utime.Nano() + used.Stime.Nano())
}
