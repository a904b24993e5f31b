package units

import (
	"strings"

	"fitfill/catalog/pattern"
)

// ThreadKind tells the families apart whose sizes are never interchangeable.
type ThreadKind string

// The families of threads.
const (
	ThreadMetric ThreadKind = "metric" // ISO 261/262: nominal diameter and pitch in mm
	ThreadInch   ThreadKind = "inch"   // ASME B1.1: nominal diameter in inches, threads per inch
	ThreadG      ThreadKind = "G"      // ISO 228-1, parallel pipe thread
	ThreadR      ThreadKind = "R"      // ISO 7-1, pipe thread that seals in the thread (also Rc, Rp)
	ThreadNPT    ThreadKind = "NPT"    // ASME B1.20.1, American taper pipe thread
)

// Thread is the thread of a bolt, hole or plug. Nominal is the outside
// diameter: for a pipe thread the true one (G1/4 is 13.157 mm), not the
// fraction in its name. A zero Length was not stated. Text is the text as
// given.
type Thread struct {
	Kind    ThreadKind
	Nominal Length
	Pitch   Length
	Length  Length
	Text    string
}

var (
	metricThread = pattern.New(`^M ?(\d+(?:[.,]\d+)?)(?: ?[xX-] ?(\d+(?:[.,]\d+)?))?(?: ?[xX] ?(\d+(?:[.,]\d+)?))?(?: ?mm)?(?:[ -]+(?:[3-9][a-hA-H]){1,2})?(?:[ -]+(?:4\.6|4\.8|5\.8|6\.8|8\.8|9\.8|10\.9|12\.9))?$`).Needing("M")
	inchThread   = pattern.New(`^(#\d{1,2}|(?:\d+(?:-| ))?\d+/\d+|\d+)(?: ?(?:"|in\.?))? ?- ?(\d{1,2})(?:[ -]?UN(?:C|F|EF|S)?)?(?:[ -][123][AB])?(?: ?[xX] ?([^xX]+))?$`).Needing("-")
	pipeThread   = pattern.New(`^(?:(G|BSPP|RP|RC|R|BSPT|NPTF|NPT) ?)?((?:\d+(?:-| ))?\d+/\d+|\d+)(?: ?(?:"|in\.?))?(?: ?-? ?\d\d)?(?: ?-? ?(G|BSPP|BSPT|NPTF|NPT))?$`)
)

// ParseThread reads a thread: "M8" (the coarse pitch of ISO 262), "M8x1.25",
// "M 8 X 1,25", "M8x30" (a whole number of 5 or more above 2.5 coarse pitches is
// a length), "M8-1.25x30", "5/16-18", `5/16"-18 UNC-2A x 1-1/4"`, "G1/4", "R1/4",
// "1/4 NPT". The length of an inch bolt is in inches. Errors are *ParseError.
func ParseThread(text string) (Thread, error) {
	s := clean(text)
	perr := unreadable("is not a thread", `write one such as "M8x1.25", "5/16-18" or "G1/4"`)
	var t Thread
	switch {
	case len(s) > maxText || s == "":
	case metricThread.MatchString(s):
		t, perr = metric(metricThread.FindStringSubmatch(s))
	case inchThread.MatchString(s):
		t, perr = inch(inchThread.FindStringSubmatch(s))
	case pipeThread.MatchString(strings.ToUpper(s)):
		t, perr = pipe(pipeThread.FindStringSubmatch(strings.ToUpper(s)))
	}
	if perr != nil {
		return Thread{}, perr.of("thread", text)
	}
	t.Text = text
	return t, nil
}
