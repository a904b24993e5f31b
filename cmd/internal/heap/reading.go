package heap

import (
	"os"
	"runtime/debug"
	"sync"
)

// A large sheet passes through memory page by page, and little of it stays: what lies
// there is mostly pages that were read. They are not to make the heap twice as large
// as what is in use.
const (
	readingPercent = 50
	usualPercent   = 100 // the collector's own pace
)

// Reading sets the collector to the pace of a process that reads a large sheet, until
// the function that it returns is called. A process that answers others keeps its own.
func Reading() (usual func()) {
	pace.Lock()
	defer pace.Unlock()
	if pace.percent != 0 || os.Getenv("GOGC") != "" || os.Getenv("GOMEMLIMIT") != "" {
		return func() {}
	}
	pace.percent = readingPercent
	debug.SetGCPercent(readingPercent)
	return sync.OnceFunc(func() {
		pace.Lock()
		defer pace.Unlock()
		pace.percent = 0
		debug.SetGCPercent(usualPercent)
	})
}
