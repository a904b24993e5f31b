// Package heap puts off the first collection of garbage.
//
// A command that answers one question leaves some ten megabytes behind and is
// done. At the collector's own pace, which begins at 4 MB, three collections fell
// into that time, the first while packages were still being initialised: a
// quarter of the processor time of a whole process. Here the first one waits for
// 32 MB, which only a long command comes to. From then on the collector keeps its
// usual pace, so a long import needs no more memory than before; a server asks for
// a pace of its own.
//
// A package is initialised as soon as those it imports are, in the order of
// their paths, so this one, which imports nothing but the runtime, comes before
// the libraries that fill the heap first.
package heap

import (
	"os"
	"runtime"
	"runtime/debug"
	"sync"
)

// startPercent times the collector's floor of 4 MB is the heap at the first
// collection.
const startPercent = 800

func init() {
	if os.Getenv("GOGC") == "" && os.Getenv("GOMEMLIMIT") == "" { // somebody knows better
		putOff(startPercent)
	}
}

// putOff sets the collector to a percentage until its next collection.
func putOff(percent int) {
	type canary struct{ _ *byte } // a pointer, else it may share its memory with what lives on
	runtime.AddCleanup(new(canary), func(usual int) {
		pace.Lock()
		defer pace.Unlock()
		if pace.percent != 0 { // set by Answering in the meantime
			usual = pace.percent
		}
		debug.SetGCPercent(usual)
	}, debug.SetGCPercent(percent))
}

// The pace of a process that answers others. What it keeps from question to
// question is a few ten megabytes, and each answer leaves less than one behind:
// at the usual pace it collects several times a second while fifty people type,
// and each time all answers under way pay for it. The limit is where it
// collects more often rather than take more memory.
const (
	answeringPercent = 300
	answeringLimit   = 512 << 20
)

var pace struct {
	sync.Mutex
	percent int
}

// Answering sets the collector to the pace of a process that answers others
// until it is stopped.
func Answering() {
	if os.Getenv("GOGC") != "" || os.Getenv("GOMEMLIMIT") != "" { // somebody knows better
		return
	}
	pace.Lock()
	defer pace.Unlock()
	pace.percent = answeringPercent
	debug.SetGCPercent(answeringPercent)
	debug.SetMemoryLimit(answeringLimit)
}
