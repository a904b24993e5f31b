package fit

import (
	"testing"

	"fitfill/catalog"
	"fitfill/catalog/units"
	"fitfill/compat"
)

// Workshop inspection texts for wax thermostats: the stamp is the middle of a
// band of ±2 °C; 82 is read at 95 °C and 76 at 90 °C, 10 mm or more.
func TestTheWaterBath(t *testing.T) {
	for opens, want := range map[float64]bool{80: true, 84: true, 85: false, 79: false} {
		if got := tables(t).OpensOnStamp(units.Celsius(82), units.Celsius(opens)); got != want {
			t.Errorf("stamp 82 opens at %g °C: %t", opens, got)
		}
	}
	for stamp, wants := range map[float64]float64{82: 95, 76: 90} {
		at, usual, known := tables(t).LiftTest(units.Celsius(stamp))
		if !known || at != units.Celsius(wants) || usual != units.Millimetres(10) {
			t.Errorf("stamp %g: read at %v, %v", stamp, at.Celsius(), usual.Millimetres())
		}
	}
	// From memory: water boils at 93.3 °C at 2000 m, 96.7 at 1000 m, 95.1 at 1500 m.
	for height, want := range map[float64]float64{0: 100, 1000: 96.7, 1500: 95.1, 2000: 93.3} {
		got, ok := tables(t).WaterBoils(units.Millimetres(1000 * height))
		if !ok {
			t.Errorf("at %g m nothing boils", height)
		}
		pctClose(t, "boils", got.Celsius(), want, 0.3)
	}
	judge := func(q Question) Verdict {
		return judgeOne(t, q, Candidate{Part: new(stat("Varn", "TX-1")), Listings: []catalog.Fitment{listing("Varn", 3)}})
	}
	told := catalog.Origin{Sheet: "as told", Text: "bath"}
	q := thermostatQuestion()
	q.Bath.Opens = celsius("83", 83, told)
	expect(t, judge(q), compat.Yes, "")
	q.Bath.Opens = celsius("85", 85, told)
	expect(t, judge(q), compat.No, "faulty: opened at 85 °C, listed as 82 °C")
	q = thermostatQuestion()
	q.Bath.Lift = length("8", 8, told)
	expect(t, judge(q), compat.No, "faulty: lifts 8.0 mm, needs 10.0 mm")
	q.Altitude = units.Millimetres(2_000_000)
	if v := judge(q); v.Outcome != compat.Yes || !missing(v, "a bath hot enough") {
		t.Errorf("at 2000 m the bath does not get to 95 °C: %s", v.First)
	}
}

// What fails in the bath is a faulty piece, not a part that does not fit: the
// other pieces of its number are not refused for it. Once its own stamp was read
// that is what it is held against, whatever the list prints.
func TestAPieceThatFailsItsTestIsFaulty(t *testing.T) {
	told := catalog.Origin{Sheet: "as told", Text: "told"}
	q := thermostatQuestion()
	q.Bath.Opens = celsius("76", 76, told)
	c := Candidate{Part: new(stat("Varn", "TX-1")), Listings: []catalog.Fitment{listing("Varn", 3)}}
	v := judgeOne(t, q, c)
	if !v.Faulty || len(v.Refuted) > 0 || len(v.Ask) != 1 || v.Ask[0].Text != askStamp {
		t.Errorf("faulty %t, refuted %v, asks %v", v.Faulty, v.Refuted, v.Ask)
	}
	read := c
	read.InHand(&Measured{Part: catalog.Part{OpeningTemp: celsius("82", 82, told)}})
	expect(t, judgeOne(t, q, read), compat.No, "faulty: opened at 76 °C, stamped 82 °C")
	read = c
	read.InHand(&Measured{Part: catalog.Part{OpeningTemp: celsius("76", 76, told)}})
	if v := judgeOne(t, q, read); v.Faulty || v.Outcome != compat.No { // sound, and of another rating than the engine's
		t.Errorf("%s: %s", v.Outcome, v.First)
	}
	large := c
	large.Part = new(*c.Part)
	large.Part.FlangeDiameter = length("55.0", 55, of("Varn", 3))
	v = judgeOne(t, q, large)
	expect(t, v, compat.No, "does not fit: flange 55.0 mm, bore 54.0 mm")
	if !v.Faulty || len(v.Refuted) != 1 {
		t.Errorf("faulty %t, refuted %v", v.Faulty, v.Refuted)
	}
}
