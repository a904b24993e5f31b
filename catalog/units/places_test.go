package units

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

var everyDimension = []*dimension{temperatures, tempDeltas, lengths, volumes, torques, pressures, percents, prices}

// What is printed in whole numbers is what math/big prints of the same fraction.
func TestPlacesPrintWhatFractionsDo(t *testing.T) {
	for _, d := range everyDimension {
		for u, s := range d.scales {
			p := s.places()
			print := func(t interface{ Errorf(string, ...any) }, base int64) {
				if !p.holds(base) {
					return
				}
				if got, want := p.print(base, s, string(u)), decimal(d.in(base, u), s.min, s.max)+" "+string(u); got != want {
					t.Errorf("%s of %d in %q: %q, want %q", d.quantity, base, u, got, want)
				}
			}
			for _, base := range []int64{0, 1, -1, 5, -5, 49, -49, 50, -50, 499_999, 500_000, -500_000, 950_000, 999_999, 1_000_000, -1_000_000, 54_000_000, p.most, -p.most, math.MaxInt64, math.MinInt64} {
				print(t, base)
			}
			rapid.Check(t, func(t *rapid.T) {
				print(t, rapid.Int64().Draw(t, "base"))
				print(t, rapid.Int64Range(-1e9, 1e9).Draw(t, "near"))
				if p.num > 0 { // halves and their neighbours
					n := rapid.Int64Range(-1e4, 1e4).Draw(t, "half")
					print(t, (2*n+1)*p.den/(2*p.num)+rapid.Int64Range(-1, 1).Draw(t, "beside"))
				}
			})
		}
	}
}

// Lengths, temperatures and torques of any engine are written the short way.
func TestPlacesHoldWhatAnEngineHas(t *testing.T) {
	for _, c := range []struct {
		d    *dimension
		u    Unit
		base int64
	}{
		{temperatures, UnitCelsius, 200_000}, {temperatures, UnitFahrenheit, 200_000}, {lengths, UnitMillimetre, 2_000_000_000}, {lengths, UnitInch, 2_000_000_000},
		{pressures, UnitKilopascal, 300_000_000}, {torques, UnitNewtonM, 300_000_000}, {volumes, UnitLitre, 40_000_000_000}, {percents, UnitPercent, 1_000_000},
	} {
		if p := c.d.scales[c.u].places(); !p.holds(c.base) || !p.holds(-c.base) {
			t.Errorf("%s in %s: %+v does not hold %d", c.d.quantity, c.u, p, c.base)
		}
	}
}

func BenchmarkFormat(b *testing.B) {
	b.ReportAllocs()
	for i := range b.N {
		lengths.format(54_000_000+int64(i), UnitMillimetre)
	}
}
