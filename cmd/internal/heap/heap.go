// Package heap puts off the first collection of garbage.
//
// A command that answers one question leaves some ten megabytes behind and is
// done. At the collector's own pace, which begins at 4 MB, three collections fell
// into that time, the first while packages were still being initialised: a
// quarter of the processor time of a whole process. Here the first one waits for
// 16 MB. From then on the collector keeps its usual pace, so a long import or a
// server needs no more memory than before.
//
// A package is initialised as soon as those it imports are, in the order of
// their paths, so this one, which imports nothing but the runtime, comes before
// the libraries that fill the heap first.
package heap

import (
	"os"
	"runtime"
	"runtime/debug"
)

// startPercent times the collector's floor of 4 MB is the heap at the first
// collection.
const startPercent = 400

func init() {
	if os.Getenv("GOGC") == "" && os.Getenv("GOMEMLIMIT") == "" { // somebody knows better
		putOff(startPercent)
	}
}

// putOff sets the collector to a percentage until its next collection.
func putOff(percent int) {
	type canary struct{ _ *byte } // a pointer, else it may share its memory with what lives on
	runtime.AddCleanup(new(canary), func(usual int) { debug.SetGCPercent(usual) }, debug.SetGCPercent(percent))
}
