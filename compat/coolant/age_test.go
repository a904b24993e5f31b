package coolant_test

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"fitfill/catalog"
	"fitfill/catalog/units"
	"fitfill/compat"
	"fitfill/compat/coolant"
)

// Topping up makes no old coolant new: the next change is never later than the
// old due date. Lives of the families are those of the table (common practice).
func TestTheAgeOfTheFillCounts(t *testing.T) {
	for _, c := range []struct {
		fill   []string
		age    float64
		months int
		due    coolant.Due
		says   string
	}{
		{[]string{"iat"}, 0, 24, coolant.NotDue, ""},
		{[]string{"iat"}, 18, 6, coolant.NotDue, ""},
		{[]string{"iat"}, 23.5, 0, coolant.MaybeDue, ""}, // this month
		{[]string{"iat"}, 36, 0, coolant.DueNow, "3 years old: conventional IAT is changed after 2 years at the latest"},
		{[]string{"p-hoat"}, 84, 0, coolant.MaybeDue, ""}, // 60 to 120 months
		{[]string{"p-hoat"}, 121, 0, coolant.DueNow, "P-HOAT is changed after 10 years"},
		{[]string{"iat", "oat"}, 30, 0, coolant.MaybeDue, ""},
		{[]string{"iat", "oat"}, 61, 0, coolant.DueNow, "whatever it is, it is changed after 5 years"},
		{[]string{"iat", "hd-oat"}, 240, 0, coolant.MaybeDue, ""}, // the label of one of them says
	} {
		q := coolant.Question{Fill: coolant.Fluid{Chemistries: c.fill}, Add: coolant.Fluid{Chemistries: c.fill[:1]}, AddVolume: catalog.Say(units.Litres(0.1), "", catalog.Origin{})}
		if c.age > 0 {
			q.Fill.AgeMonths = say(c.age)
		}
		q.FillVolume = catalog.Say(units.Litres(8), "", catalog.Origin{})
		a := tables(t).Mix(q)
		says := strings.Join(a.Before.Says, " ")
		if a.Result.Months != c.months || a.Result.Due != c.due || !strings.Contains(says, c.says) || (c.says != "") != strings.Contains(says, " old: ") {
			t.Errorf("%v at %g months: %d months, due %q, %q; want %d, %q, %q", c.fill, c.age, a.Result.Months, a.Result.Due, says, c.months, c.due, c.says)
		}
		if over := a.Before.Outcome != compat.Yes; c.says != "" && !over {
			t.Errorf("%v at %g months: the fill as it is is no caution", c.fill, c.age)
		}
	}
}

// By a log the largest part decides: what nobody knows of the rest prolongs nothing.
func TestTheAgeByALog(t *testing.T) {
	q := coolant.Question{Fill: coolant.Fluid{Mixed: []coolant.Share{{Chemistry: "iat", Percent: units.Percents(58)}, {Chemistry: "unknown", Percent: units.Percents(42)}}, ChangedMonths: say(41.0)}}
	q.Add = coolant.Fluid{Chemistries: []string{"iat"}}
	q.FillVolume, q.AddVolume = catalog.Say(units.Litres(9), "", catalog.Origin{}), catalog.Say(units.Litres(0.2), "", catalog.Origin{})
	if a := tables(t).Mix(q); a.Result.Due != coolant.DueNow || !strings.Contains(strings.Join(a.Before.Says, " "), "41 months old") {
		t.Errorf("%q, %q", a.Result.Due, a.Before.Says)
	}
}

// An older fill never lasts longer and never mixes better.
func TestAgeNeverHelps(t *testing.T) {
	tab := tables(t)
	rapid.Check(t, func(t *rapid.T) {
		ids := tab.Chemistries()
		q := coolant.Question{
			Fill:       coolant.Fluid{Chemistries: []string{rapid.SampledFrom(ids).Draw(t, "fill")}},
			Add:        coolant.Fluid{Chemistries: []string{rapid.SampledFrom(ids).Draw(t, "add")}},
			FillVolume: catalog.Say(units.Litres(6), "", catalog.Origin{}),
			AddVolume:  catalog.Say(units.Litres(rapid.Float64Range(0.1, 2).Draw(t, "litres")), "", catalog.Origin{}),
		}
		young := rapid.Float64Range(0, 100).Draw(t, "young")
		q.Fill.ChangedMonths = say(young)
		a := tab.Mix(q)
		q.Fill.ChangedMonths = say(young + rapid.Float64Range(0, 100).Draw(t, "older by"))
		b := tab.Mix(q)
		if b.Outcome != a.Outcome || b.Result.Months > a.Result.Months || a.Result.Due == coolant.DueNow && b.Result.Due != coolant.DueNow || a.Before.Outcome.Worse(b.Before.Outcome) {
			t.Fatalf("young %s %d %q, old %s %d %q", a.Outcome, a.Result.Months, a.Result.Due, b.Outcome, b.Result.Months, b.Result.Due)
		}
	})
}
