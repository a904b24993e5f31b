package fit

import (
	"math"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/units"
	"fitfill/compat"
)

// StressArea returns the tensile stress area of a thread in mm²:
// π/4·(d − 0.9382·P)² for metric threads (ISO 898-1, 9.1.6), π/4·(D − 0.9743/n)²
// for inch threads with P = 1/n (ASME B1.1, appendix B).
func StressArea(t units.Thread) float64 {
	loss := 13. / 12 * triangle(t) // ISO 898-1: the mean of pitch diameter, d - 3/4·H, and root diameter, d - 17/12·H
	if t.Kind == units.ThreadInch {
		loss = 9. / 8 * triangle(t) // ASME B1.1
	}
	d := t.Nominal.Millimetres() - loss
	return math.Pi / 4 * d * d
}

// triangle is the height of a thread's fundamental triangle, H = √3/2·P (ISO 68-1).
func triangle(t units.Thread) float64 { return math.Sqrt(3) / 2 * t.Pitch.Millimetres() }

// pitchDiameter is d − 3/4·H = d − 0.6495·P (ISO 724, basic dimensions).
func pitchDiameter(t units.Thread) float64 {
	return t.Nominal.Millimetres() - 3./4*triangle(t)
}

// ProofLoad returns the load in kN that a bolt of that class or grade bears
// without staying longer; known is false for a class that is not on file.
func (t *Tables) ProofLoad(thread units.Thread, class string) (kN float64, known bool) {
	c, known := t.bolts.find(thread, class)
	return c.proof * StressArea(thread) / 1000, known
}

// PullOut returns the least load in kN that strips a thread of length l in a
// material of that shear strength in MPa: π·dm·Fs·L/3 with dm the pitch
// diameter (NASA RP-1228, pull-out load).
func (t *Tables) PullOut(thread units.Thread, l units.Length, shearMPa float64) float64 {
	return math.Pi * pitchDiameter(thread) * shearMPa * l.Millimetres() * t.bolts.limits.of(pulloutShare) / 1000
}

// clamp returns the load in kN that a torque gives at a torque factor:
// F = T/(K·d).
func clamp(torque units.Torque, thread units.Thread, k float64) float64 {
	return torque.NewtonMetres() / (k * thread.Nominal.Millimetres())
}

// torqueOf returns the torque that gives a load in kN: T = K·d·F.
func torqueOf(kN float64, thread units.Thread, k float64) units.Torque {
	return units.NewtonMetres(k * thread.Nominal.Millimetres() * kN)
}

// find returns the class of that name among those of the thread's system.
func (b *bolts) find(thread units.Thread, class string) (boltClass, bool) {
	i, ok := b.classOf[systemOf(thread)+" "+catalog.Fold(class)]
	if !ok {
		return boltClass{}, false
	}
	return b.classes[i], true
}

func systemOf(t units.Thread) string {
	if t.Kind == units.ThreadInch {
		return "inch"
	}
	return "metric"
}

// assumed returns the class that an unmarked bolt is judged as, weakest the
// weakest that is sold.
func (b *bolts) assumed(thread units.Thread) (usual, weakest boltClass) {
	for _, c := range b.classes {
		if c.inch != (thread.Kind == units.ThreadInch) {
			continue
		}
		if c.assumed {
			usual = c
		}
		if weakest.proof == 0 || c.proof < weakest.proof {
			weakest = c
		}
	}
	return usual, weakest
}

// in returns the material of that name; a thread that nobody described is
// taken as the weakest on file.
func (b *bolts) in(name string) (m threadMaterial, known bool) {
	folded := strings.Fields(catalog.Fold(name))
	for words, i := range b.material {
		if len(folded) > 0 && within(folded, strings.Fields(words)) && len(b.materials[i].name) >= len(m.name) {
			m, known = b.materials[i], true
		}
	}
	if known {
		return m, true
	}
	for _, o := range b.materials {
		if o.shear > 0 && (m.shear == 0 || o.shear < m.shear) {
			m = o
		}
	}
	return m, false
}

// bears is what bolt and thread bear, in kN.
type bears struct {
	proof, strip float64 // strip, what the thread is sure to hold: 0 where the bolt gives way first
	ceiling      float64 // what no such thread holds; strip where its limits of size are not on file
	engaged      units.Length
	origin       []compat.Evidence
}

// weaker is the weaker of the two.
func (b bears) weaker() float64 {
	if b.strip > 0 {
		return min(b.proof, b.strip)
	}
	return b.proof
}

// surely is the load that breaks the bolt or strips the thread without a doubt.
func (b bears) surely() float64 {
	if b.strip > 0 {
		return min(b.proof, b.ceiling)
	}
	return b.proof
}

// bears computes it for a shear strength of the material in MPa; the length
// engaged is what was measured, else the usual one for the material.
func (t *Tables) bears(thread units.Thread, c boltClass, m threadMaterial, shear float64, engaged catalog.Stated[units.Length]) bears {
	b := bears{proof: c.proof * StressArea(thread) / 1000, origin: cite(nil, c.origin)}
	if shear > 0 {
		b.engaged = units.Millimetres(m.engagement * thread.Nominal.Millimetres())
		if engaged.Known {
			b.engaged = engaged.Value
		}
		b.strip = t.PullOut(thread, b.engaged, shear)
		b.ceiling = b.strip
		if area, known := t.StripArea(thread, b.engaged); known {
			b.ceiling = area * shear / 1000
			b.origin = cite(b.origin, t.bolts.threads[sizeOf(thread)].origin)
		}
		b.origin = cite(b.origin, m.origin)
		b.origin = cite(b.origin, t.bolts.limits.cite(pulloutShare)...)
	}
	return b
}
