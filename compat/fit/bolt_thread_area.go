package fit

import (
	"fmt"
	"math"

	"fitfill/catalog"
	"fitfill/catalog/units"
	"fitfill/compat"
)

// threadLimit holds the two limits of size that leave the least flank of an
// internal thread in mesh: the thinnest bolt in the widest hole.
type threadLimit struct {
	majorMin, pitchMax units.Length // of the bolt, of the hole
	origin             compat.Evidence
}

// threadSize is what tells threads of one family apart.
type threadSize struct {
	kind           units.ThreadKind
	nominal, pitch units.Length
}

func sizeOf(t units.Thread) threadSize { return threadSize{t.Kind, t.Nominal, t.Pitch} }

func (b *bolts) limit(row catalog.RefRow) error {
	fail := func(err error) error { return fmt.Errorf("table %s, line %d: %w", row.Table, row.Line, err) }
	th, err := units.ParseThread(row.Get("thread"))
	if err != nil {
		return fail(err)
	}
	l := threadLimit{origin: compat.Cite(row)}
	if l.majorMin, err = units.ParseLength(row.Get("major_min")+" "+row.Get("unit"), ""); err != nil {
		return fail(err)
	}
	if l.pitchMax, err = units.ParseLength(row.Get("pitch_max")+" "+row.Get("unit"), ""); err != nil {
		return fail(err)
	}
	b.threads[sizeOf(th)] = l
	return nil
}

// StripArea returns the area in mm² that a tapped hole shears through when its
// thread strips over a length l: π·(L/P)·dmin·(P/2 + (dmin − D2max)/√3), with
// dmin the least major diameter of the bolt and D2max the greatest pitch
// diameter of the hole (ASME B1.1, appendix B; FED-STD-H28; limits of size of
// ISO 965-2 and ASME B1.1, table fit_thread_limits). known is false for a thread
// that is not in the table.
//
// Times the shear strength it is a ceiling: no thread of that length holds more,
// while PullOut is what it is sure to hold.
func (t *Tables) StripArea(thread units.Thread, l units.Length) (mm2 float64, known bool) {
	limit, known := t.bolts.threads[sizeOf(thread)]
	if !known {
		return 0, false
	}
	d, p := limit.majorMin.Millimetres(), thread.Pitch.Millimetres()
	return math.Pi * l.Millimetres() / p * d * (p/2 + (d-limit.pitchMax.Millimetres())/math.Sqrt(3)), true
}

// ceilingStep writes the computation of StripArea out.
func (t *Tables) ceilingStep(thread units.Thread, l units.Length, shearMPa float64) string {
	limit := t.bolts.threads[sizeOf(thread)]
	area, _ := t.StripArea(thread, l)
	d, d2, p := limit.majorMin.Millimetres(), limit.pitchMax.Millimetres(), thread.Pitch.Millimetres()
	return fmt.Sprintf("no such thread holds more than 3.1416 x %.1f / %.4g x %.3f x (%.4g / 2 + (%.3f - %.3f) / 1.7321) = %.1f mm², and %.1f x %.0f / 1000 = %.2f kN",
		l.Millimetres(), p, d, p, d, d2, area, area, shearMPa, area*shearMPa/1000)
}
