package cli

import (
	"strings"
	"testing"
	"time"
)

// The bar names what it counts, says how long it will take, keeps to one line of
// the screen and is gone in the end; short work shows none.
func TestTheBarOfALongWork(t *testing.T) {
	var out strings.Builder
	at := time.Date(2026, 3, 2, 9, 0, 0, 0, time.UTC)
	show := bar(&out, "kB unpacked", func() time.Time { return at })
	show(10, 100)
	if out.Len() > 0 {
		t.Errorf("at once: %q", out.String())
	}
	at = at.Add(2 * time.Second)
	show(40, 100)
	if got, want := out.String(), "\r  [============                  ] 40 of 100 kB unpacked, 3s left "; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	if len(out.String()) > textWidth {
		t.Errorf("%q is too wide", out.String())
	}
	out.Reset()
	show(100, 100)
	if got := out.String(); !strings.HasSuffix(got, "\r"+strings.Repeat(" ", textWidth)+"\r") {
		t.Errorf("in the end: %q", got)
	}
}
