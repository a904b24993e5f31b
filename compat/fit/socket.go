package fit

import "fitfill/catalog/units"

// Head is a bolt that a socket or key fits.
type Head struct{ Drive, Thread, Standard string }

// HeadsFor returns the bolts whose head, or whose hexagon socket, is of that
// size across the flats, in the order of the table. One size has up to three
// answers: the thread has to be looked at. key is for a key that goes into the
// head.
func (t *Tables) HeadsFor(across units.Length, key bool) []Head {
	var out []Head
	for _, h := range t.bolts.heads {
		if h.size == across && (h.drive == hexKey) == key {
			out = append(out, Head{h.drive, h.thread, h.standard})
		}
	}
	return out
}

// hexKey is the drive of a screw that a key goes into.
const hexKey = "hexagon socket"
