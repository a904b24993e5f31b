package app

import (
	"errors"
	"os"
	"strconv"
	"syscall"
)

// niceness is how far an import stands back behind whoever waits at the counter.
// At 5 it still gets a quarter of a processor that others want whole.
const niceness = 5

// noNiceness is what the system call gives for a niceness of nought; it counts
// down from there (getpriority(2)).
const noNiceness = 20

// GiveWay puts this process behind others that want the processors, as a long
// import beside a page that answers should be. A machine with nothing else to do
// is as quick as before. On Linux each thread has its own place in the queue, and
// a new one takes that of the thread that starts it. Where the system shares the
// processors among sessions first, it counts within one session alone.
func GiveWay() error {
	threads, err := os.ReadDir("/proc/self/task")
	if err != nil {
		return err
	}
	for _, t := range threads {
		id, err := strconv.Atoi(t.Name())
		if err != nil {
			return err
		}
		if back, err := syscall.Getpriority(syscall.PRIO_PROCESS, id); err == nil && noNiceness-back >= niceness {
			continue // somebody has put it further back
		}
		if err := syscall.Setpriority(syscall.PRIO_PROCESS, id, niceness); err != nil && !errors.Is(err, syscall.ESRCH) { // a thread may have ended meanwhile
			return err
		}
	}
	return nil
}
