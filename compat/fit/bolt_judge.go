package fit

import (
	"fmt"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/units"
	"fitfill/compat"
)

// torqued is a torque on one thread.
type torqued struct {
	namedThread
	show       shower
	class      boltClass
	classSaid  string
	bears      bears
	low, high  units.Torque // the band in which figures of the trade lie
	most       units.Torque // what breaks bolt or thread even when plain and dry
	above      units.Torque // what surely breaks bolt or strips thread when oiled
	sure       units.Torque // what an oiled one is sure to bear
	outcome    compat.Outcome
	says, slip string
	perhaps    bool // too much, but between what the thread is sure to hold and what surely strips it
	steps      []string
	strength   int    // how many of the steps are about strength alone
	wrong      string // the step that gives above
	from       []compat.Evidence

	shallow     string // that too little of the thread holds
	shallowFrom []compat.Evidence
}

// torqueOn computes what a thread bears: the band from 0.12·d·(0.30 proof) to
// 0.20·d·min(0.85 proof, pull-out), the torque that reaches the weaker of bolt
// and thread at the factor of a plain dry thread, and at the least factor. An
// unmarked bolt is judged as the usual class, and by the weakest that is sold
// where no figure is on file (shares and factors: table fit_bolt_limits).
func (t *Tables) torqueOn(th namedThread, b *Bolt) torqued {
	j := torqued{namedThread: th, show: showIn(b.Show)}
	usual, weakest := t.bolts.assumed(th.Thread)
	known := false
	if j.class, known = t.bolts.find(th.Thread, b.Class.Value); !known {
		j.class = usual
	}
	j.classSaid = j.class.name
	if !known {
		j.classSaid += " (not marked: taken as that)"
	}
	m, _ := t.bolts.in(b.Into.Value)
	l := t.bolts.limits
	j.bears = t.bears(th.Thread, j.class, m, m.shear, b.Engaged)
	j.low = torqueOf(l.of(clampLowShare)*j.bears.proof, th.Thread, l.of(kLow))
	top := l.of(clampHighShare) * j.bears.proof
	if j.bears.strip > 0 {
		top = min(top, j.bears.strip)
	}
	j.high = torqueOf(top, th.Thread, l.of(kHigh))
	j.most = torqueOf(j.bears.weaker(), th.Thread, l.of(kHigh))
	if known {
		weakest = j.class
	}
	weak := t.bears(th.Thread, weakest, m, m.low, b.Engaged)
	j.above, j.sure = torqueOf(weak.surely(), th.Thread, l.of(kLow)), torqueOf(weak.weaker(), th.Thread, l.of(kLow))
	j.from = cite(cite(cite(from(b.Torque.Origin, b.Class.Origin, b.Into.Origin), th.origin...), j.bears.origin...), l.cite(kLow, kHigh, clampLowShare, clampHighShare)...)
	j.steps = []string{
		fmt.Sprintf("stress area of %s: %.2f mm²; proof load of class %s: %.2f x %.0f / 1000 = %.2f kN", th.Text, StressArea(th.Thread), j.class.name, StressArea(th.Thread), j.class.proof, j.bears.proof),
	}
	if j.bears.strip > 0 {
		j.steps = append(j.steps, fmt.Sprintf("thread in %s, %s engaged: 3.1416 x %.3f x %.0f x %.1f x %.4f / 1000 = %.2f kN before it strips",
			m.name, j.show.length(j.bears.engaged), pitchDiameter(th.Thread), m.shear, j.bears.engaged.Millimetres(), l.of(pulloutShare), j.bears.strip))
		if _, known := t.StripArea(th.Thread, j.bears.engaged); known {
			j.steps = append(j.steps, t.ceilingStep(th.Thread, j.bears.engaged, m.shear))
		}
	}
	d := th.Nominal.Millimetres()
	j.wrong = fmt.Sprintf("what surely breaks an oiled one: %g x %.2f mm x %.2f kN = %.1f N·m", l.of(kLow), d, weak.surely(), j.above.NewtonMetres())
	if j.sure != j.above {
		j.wrong += fmt.Sprintf("; what it is sure to bear: %g x %.2f mm x %.2f kN = %.1f N·m", l.of(kLow), d, weak.weaker(), j.sure.NewtonMetres())
	}
	if b.Engaged.Known && b.Engaged.Value.Millimetres() < m.engagement*d {
		j.shallow = fmt.Sprintf("Only %s of thread in %s: it wants %s diameters, %s.", j.show.length(b.Engaged.Value), m.name, trimmed(m.engagement), j.show.mm(m.engagement*d))
		j.shallowFrom = cite(from(b.Engaged.Origin), m.origin)
	}
	j.strength = len(j.steps)
	j.steps = append(j.steps,
		fmt.Sprintf("lowest figure that clamps: %g x %.2f mm x %g x %.2f kN = %.1f N·m", l.of(kLow), d, l.of(clampLowShare), j.bears.proof, j.low.NewtonMetres()),
		fmt.Sprintf("highest that bolt and thread bear with a margin, dry: %g x %.2f mm x %.2f kN = %.1f N·m", l.of(kHigh), d, top, j.high.NewtonMetres()),
		fmt.Sprintf("what breaks them, dry: %g x %.2f mm x %.2f kN = %.1f N·m; oiled (factor %g) %.1f N·m", l.of(kHigh), d, j.bears.weaker(), j.most.NewtonMetres(), l.of(kLow), torqueOf(j.bears.weaker(), th.Thread, l.of(kLow)).NewtonMetres()))
	return j
}

// judge compares a stated bracket with what the thread bears: by its middle
// with the band, by its upper end with what breaks a dry thread.
func (j *torqued) judge(t *Tables, low, high units.Torque, text string) {
	mid := units.TorqueOf((low.MicronewtonMetres() + high.MicronewtonMetres()) / 2)
	what := fmt.Sprintf("%s on %s class %s", bracket(j.show, low, high), j.name, j.classSaid)
	load := clamp(high, j.Thread, t.bolts.limits.of(kHigh))
	j.steps = append(j.steps, fmt.Sprintf("%.1f N·m, dry: %.1f / (%g x %.2f) = %.1f kN", high.NewtonMetres(), high.NewtonMetres(), t.bolts.limits.of(kHigh), j.Nominal.Millimetres(), load))
	switch {
	case high.Compare(j.most) > 0:
		j.outcome, j.says = compat.No, what+" is surely wrong: it breaks the "+j.weakest()+"."
		if j.perhaps = load <= j.bears.surely(); j.perhaps {
			j.says = fmt.Sprintf("%s is too much: %.1f kN, and the thread is sure to hold %.1f kN only.", what, load, j.bears.strip)
		}
	case mid.Compare(j.high) > 0:
		j.outcome, j.says = compat.Caution, what+" is more than bolts of that size are tightened to."
	case mid.Compare(j.low) < 0:
		j.outcome, j.says = compat.Caution, what+" hardly clamps."
	default:
		j.outcome, j.says = compat.Yes, what+" is plausible."
		if oiled := torqueOf(j.bears.weaker(), j.Thread, t.bolts.limits.of(kLow)); high.Compare(oiled) > 0 {
			j.says += " Only with a clean and dry thread: oiled it goes past what the " + j.weakest() + " bears."
		}
		return
	}
	if j.slip = j.slips(text, low, high); j.slip != "" {
		j.says += " Most likely " + j.slip + " is meant."
	}
}

func (j *torqued) weakest() string {
	if j.bears.strip > 0 && j.bears.strip < j.bears.proof {
		return "thread"
	}
	return "bolt"
}

// slipUnits are the units that are taken for each other, the likeliest first.
var slipUnits = []units.Unit{units.UnitPoundInch, units.UnitNewtonM, units.UnitPoundFoot, units.UnitKgfCm, units.UnitKgfM}

// slips names the units in which the same digits would be plausible.
func (j *torqued) slips(text string, low, high units.Torque) string {
	var named []string
	for _, u := range slipUnits {
		a, b, err := units.ParseTorqueRange(digits(text), u)
		if err != nil || a == low && b == high {
			continue
		}
		mid := units.TorqueOf((a.MicronewtonMetres() + b.MicronewtonMetres()) / 2)
		if mid.Compare(j.low) >= 0 && b.Compare(j.most) <= 0 {
			named = append(named, fmt.Sprintf("%s %s (%s)", digits(text), u, bracket(j.show, a, b)))
		}
	}
	if len(named) > 2 { // the likeliest say enough
		named = named[:2]
	}
	return strings.Join(named, " or ")
}

// digits returns the numbers of a torque without its unit: "15-22".
func digits(text string) string {
	at := strings.IndexFunc(text, func(r rune) bool {
		return !strings.ContainsRune("0123456789.,-–/ ", r)
	})
	if at < 0 {
		at = len(text)
	}
	return strings.TrimRight(text[:at], " .,-–")
}

func bracket(s shower, low, high units.Torque) string {
	if low == high {
		return units.System(s).FormatTorque(low)
	}
	a, b := units.System(s).FormatTorque(low), units.System(s).FormatTorque(high)
	return a[:strings.IndexByte(a, ' ')] + " to " + b
}

// BoltOf is what the garage's sheets say of an engine's housing bolts.
func BoltOf(e *catalog.EngineFamily) Bolt {
	return Bolt{Thread: e.BoltThread, Class: e.BoltClass, Torque: e.BoltTorque, Count: e.BoltCount, Into: e.ThreadMaterial, Housing: e.HousingMaterial, Hole: e.BoltHole}
}
