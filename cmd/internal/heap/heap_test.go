package heap

import (
	"os"
	"runtime"
	"runtime/debug"
	"testing"
	"time"
)

func percent() int {
	now := debug.SetGCPercent(-1)
	debug.SetGCPercent(now)
	return now
}

func TestOnlyTheFirstCollectionIsPutOff(t *testing.T) {
	if os.Getenv("GOGC") == "" && os.Getenv("GOMEMLIMIT") == "" {
		runtime.GC() // ends what init has put off
	}
	usual := waitFor(t, func(p int) bool { return p != startPercent })
	putOff(startPercent)
	if now := percent(); now != startPercent {
		t.Fatalf("the collector is at %d per cent, want %d until the first collection", now, startPercent)
	}
	runtime.GC()
	waitFor(t, func(p int) bool { return p == usual })
}

// waitFor waits for the cleanup, which runs in a goroutine of its own some time
// after a collection.
func waitFor(t *testing.T, right func(percent int) bool) int {
	t.Helper()
	for until := time.Now().Add(10 * time.Second); time.Now().Before(until); time.Sleep(time.Millisecond) {
		if p := percent(); right(p) {
			return p
		}
	}
	t.Fatalf("the collector stays at %d per cent", percent())
	return 0
}

func TestAnAnsweringProcessKeepsItsPace(t *testing.T) {
	if os.Getenv("GOGC") != "" || os.Getenv("GOMEMLIMIT") != "" {
		t.Skip("the environment sets the pace of the collector")
	}
	usual, limit := percent(), debug.SetMemoryLimit(-1)
	defer func() {
		pace.percent = 0
		debug.SetGCPercent(usual)
		debug.SetMemoryLimit(limit)
	}()
	putOff(startPercent)
	Answering()
	runtime.GC() // what was put off comes, and leaves the pace alone
	time.Sleep(50 * time.Millisecond)
	if now := percent(); now != answeringPercent {
		t.Errorf("the collector is at %d per cent, want %d", now, answeringPercent)
	}
	if now := debug.SetMemoryLimit(-1); now != answeringLimit {
		t.Errorf("the limit is %d", now)
	}
}
