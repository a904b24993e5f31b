package fit

import (
	"fmt"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/units"
	"fitfill/compat"
)

// boltClass is a property class of ISO 898-1 or a grade of SAE J429.
type boltClass struct {
	name    string
	inch    bool
	proof   float64 // MPa
	assumed bool    // where the head is not marked
	origin  compat.Evidence
}

// threadMaterial is what a thread is cut into.
type threadMaterial struct {
	name       string
	shear, low float64 // MPa, the usual alloy and the weakest; 0: the bolt gives way first
	engagement float64 // in diameters, where it is not measured
	origin     compat.Evidence
}

// head is one bolt that a socket fits.
type head struct {
	size             units.Length
	drive            string
	thread, standard string
	origin           compat.Evidence
}

type boltNote struct {
	when, says string
	origin     compat.Evidence
}

// bolts are the tables that a torque is judged by.
type bolts struct {
	classes   []boltClass
	classOf   map[string]int
	materials []threadMaterial
	material  map[string]int
	heads     []head
	notes     []boltNote
	threads   map[threadSize]threadLimit
	limits    limits
}

// The keys that table fit_bolt_limits must hold.
const (
	kLow           = "k_low"
	kHigh          = "k_high"
	clampLowShare  = "clamp_low_share"
	clampHighShare = "clamp_high_share"
	pulloutShare   = "pullout"
)

func newBolts(ref catalog.Tables) (b bolts, err error) {
	b = bolts{classOf: map[string]int{}, material: map[string]int{}, threads: map[threadSize]threadLimit{}}
	if b.limits, err = readLimits(ref, "fit_bolt_limits", kLow, kHigh, clampLowShare, clampHighShare, pulloutShare); err != nil {
		return b, err
	}
	return b, readAll(ref, map[string]func(catalog.RefRow) error{
		"fit_bolt_classes": b.class, "fit_thread_materials": b.threadIn, "fit_sockets": b.headOf, "fit_bolt_notes": b.noteOf,
		"fit_thread_limits": b.limit,
	})
}

func readAll(ref catalog.Tables, read map[string]func(catalog.RefRow) error) error {
	for name, take := range read {
		rows, err := ref.Table(name)
		if err != nil {
			return err
		}
		for _, row := range rows {
			if err := take(row); err != nil {
				return err
			}
		}
	}
	return nil
}

// megapascalPerKsi is 1000 lbf/in² in MPa (NIST SP 811, appendix B.8).
var megapascalPerKsi = units.PSI(1000).Kilopascals() / 1000

func (b *bolts) class(row catalog.RefRow) error {
	proof, err := row.Float("proof")
	if err != nil {
		return err
	}
	switch row.Get("unit") {
	case "MPa":
	case "ksi":
		proof *= megapascalPerKsi
	default:
		return fmt.Errorf("table %s, line %d: %q is no unit of strength", row.Table, row.Line, row.Get("unit"))
	}
	c := boltClass{name: row.Get("class"), inch: row.Get("system") == "inch", proof: proof, assumed: row.Get("assumed") == "yes", origin: compat.Cite(row)}
	for _, a := range strings.Split(row.Get("aliases"), "|") {
		b.classOf[row.Get("system")+" "+catalog.Fold(a)] = len(b.classes)
	}
	b.classes = append(b.classes, c)
	return nil
}

func (b *bolts) threadIn(row catalog.RefRow) (err error) {
	m := threadMaterial{name: row.Get("name"), origin: compat.Cite(row)}
	if m.engagement, err = row.Float("engagement_d"); err != nil {
		return err
	}
	if row.Get("shear_mpa") != "" {
		v, err := floats(row, "shear_mpa", "shear_low_mpa")
		if err != nil {
			return err
		}
		m.shear, m.low = v[0], v[1]
	}
	for _, w := range strings.Split(row.Get("words"), "|") {
		b.material[catalog.Fold(w)] = len(b.materials)
	}
	b.materials = append(b.materials, m)
	return nil
}

func (b *bolts) headOf(row catalog.RefRow) error {
	size, err := units.ParseLength(row.Get("size")+" "+row.Get("unit"), "")
	if err != nil {
		return fmt.Errorf("table %s, line %d: %w", row.Table, row.Line, err)
	}
	b.heads = append(b.heads, head{size, row.Get("drive"), row.Get("thread"), row.Get("standard"), compat.Cite(row)})
	return nil
}

func (b *bolts) noteOf(row catalog.RefRow) error {
	b.notes = append(b.notes, boltNote{row.Get("when"), row.Get("says"), compat.Cite(row)})
	return nil
}
