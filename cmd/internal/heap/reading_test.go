package heap

import (
	"runtime/debug"
	"testing"
)

// A large sheet is read at a pace of its own, and only while it is read; a process
// that answers others keeps the pace that it has.
func TestReadingHasItsPaceAndGivesItBack(t *testing.T) {
	t.Setenv("GOGC", "")
	t.Setenv("GOMEMLIMIT", "")
	defer debug.SetGCPercent(debug.SetGCPercent(startPercent))
	usual := Reading()
	if got := percent(); got != readingPercent {
		t.Errorf("a sheet is read at %d", got)
	}
	Reading()() // one inside the other changes nothing
	if got := percent(); got != readingPercent {
		t.Errorf("a second sheet ends the pace of the first: %d", got)
	}
	usual()
	usual()
	if got := percent(); got != usualPercent || pace.percent != 0 {
		t.Errorf("afterwards the pace is %d", got)
	}
	pace.percent = answeringPercent
	defer func() { pace.percent = 0 }()
	debug.SetGCPercent(answeringPercent)
	Reading()()
	if got := percent(); got != answeringPercent {
		t.Errorf("a server reads a sheet at %d", got)
	}
}
