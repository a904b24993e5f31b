package fit

import (
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"fitfill/catalog"
	"fitfill/catalog/units"
	"fitfill/compat"
)

// joinedParts builds a network of plain thermostats, numbered from 1; change
// makes some of them differ.
func joinedParts(names string, change map[string]func(*catalog.Part), refs ...string) (*Network, map[string]int64) {
	ids := map[string]int64{}
	var parts []*catalog.Part
	for i, name := range strings.Fields(names) {
		supplier, _, _ := strings.Cut(name, "-")
		p := stat(supplier, name)
		p.ID = int64(i + 1)
		if f := change[name]; f != nil {
			f(&p)
		}
		ids[name] = p.ID
		parts = append(parts, &p)
	}
	var all []Reference
	for i, r := range refs { // "A-1 same B-2"
		w := strings.Fields(r)
		supplier, _, _ := strings.Cut(w[0], "-")
		all = append(all, Reference{From: ids[w[0]], To: ids[w[2]], Relation: catalog.Relation(w[1]), Origin: of(supplier, 100+i)})
	}
	return NewNetwork(parts, all), ids
}

func opens(c float64) func(*catalog.Part) {
	return func(p *catalog.Part) { p.OpeningTemp = celsius("", c, p.OpeningTemp.Origin) }
}

func unstated(p *catalog.Part) {
	*p = catalog.Part{ID: p.ID, Supplier: p.Supplier, Number: p.Number, Key: p.Key}
}

func TestChainsAreFollowedInTheirDirection(t *testing.T) {
	n, id := joinedParts("A-1 B-1 C-1 D-1 E-1 S-1 S-2 S-3 S-0", nil,
		"B-1 same A-1", "C-1 same B-1", "D-1 same C-1", "E-1 same D-1",
		"S-1 replaced_by S-2", "S-3 replaces S-2", "S-1 replaces S-0", "A-1 same S-1")
	links := tables(t).Links(n, []int64{id["A-1"]})
	hops := map[string]int{}
	for name, i := range id {
		for _, l := range links[i] {
			hops[name] = l.Hops
		}
	}
	// Two cross-references count, a third does not; supersessions lead from the
	// old number to the newest and never back.
	want := map[string]int{"B-1": 1, "C-1": 2, "S-1": 1, "S-2": 1, "S-3": 1}
	for name := range id {
		if hops[name] != want[name] {
			t.Errorf("%s is reached over %d cross-references, want %d", name, hops[name], want[name])
		}
	}
	newest := links[id["S-3"]][0]
	if len(newest.Chain) != 3 || newest.Chain[2].Relation != catalog.Replaces || newest.Chain[0].Relation != catalog.Same {
		t.Errorf("the chain to S-3 is %+v", newest.Chain)
	}
	if text := newest.says(); !strings.Contains(text, "in 3 steps by way of S-1 of S, then S-2 of S") {
		t.Errorf("says %q", text)
	}
}

func TestOrderOfReferencesChangesNothing(t *testing.T) {
	names := "A-1 B-1 C-1 D-1 S-1 S-2 S-3"
	refs := []string{"B-1 same A-1", "A-1 same B-1", "C-1 same B-1", "D-1 same A-1", "S-1 replaced_by S-2", "S-3 replaces S-2", "A-1 same S-1", "S-2 same D-1"}
	change := map[string]func(*catalog.Part){"C-1": opens(95)}
	first, id := joinedParts(names, change, refs...)
	rapid.Check(t, func(rt *rapid.T) {
		// Origins keep their lines: the references are built first, then mixed.
		n, _ := joinedParts(names, change, refs...)
		var parts []*catalog.Part
		for _, p := range n.parts {
			parts = append(parts, p)
		}
		var mixed []Reference
		for _, e := range n.all {
			relation := catalog.Same
			if e.replaces {
				relation = catalog.ReplacedBy
			}
			for _, o := range e.origins {
				mixed = append(mixed, Reference{From: e.a, To: e.b, Relation: relation, Origin: o})
				if e.bothSides {
					mixed = append(mixed, Reference{From: e.b, To: e.a, Relation: relation, Origin: o})
				}
			}
		}
		again := NewNetwork(parts, rapid.Permutation(mixed).Draw(rt, "references"))
		a, b := tables(t).Links(first, []int64{id["A-1"]}), tables(t).Links(again, []int64{id["A-1"]})
		for i, list := range a {
			if len(list) != len(b[i]) {
				rt.Fatalf("part %d: %d and %d links", i, len(list), len(b[i]))
			}
			for k := range list {
				if list[k].says() != b[i][k].says() || !slices.Equal(list[k].origins(), b[i][k].origins()) {
					rt.Fatalf("part %d: %q %v and %q %v", i, list[k].says(), list[k].origins(), b[i][k].says(), b[i][k].origins())
				}
			}
		}
		p, q := tables(t).Poisoned(first, units.System{}), tables(t).Poisoned(again, units.System{})
		if len(p) != 1 || len(q) != 1 || p[0].Says() != q[0].Says() {
			rt.Fatalf("poisoned: %v and %v", p, q)
		}
	})
}

func TestSupersessionsAreFollowedToTheirEnd(t *testing.T) {
	for name, tc := range map[string]struct {
		refs   []string
		newest string
		circle bool
		says   string
	}{
		"a chain":          {[]string{"A-1 replaced_by A-2", "A-3 replaces A-2"}, "A-3", false, "Replaced by A-3 of A (A-1 → A-2 → A-3)."},
		"one step":         {[]string{"A-1 replaced_by A-2"}, "A-2", false, "Replaced by A-2 of A."},
		"stated twice":     {[]string{"A-1 replaced_by A-2", "A-2 replaces A-1"}, "A-2", false, "Replaced by A-2 of A."},
		"a branch":         {[]string{"A-1 replaced_by A-2", "A-1 replaced_by A-3"}, "A-2 A-3", false, "Several numbers replace A-1: A-2, A-3."},
		"a circle":         {[]string{"A-1 replaced_by A-2", "A-2 replaced_by A-3", "A-3 replaced_by A-1"}, "", true, "in a circle (A-1 → A-2 → A-3 → A-1)"},
		"two ways to one":  {[]string{"A-1 replaced_by A-2", "A-1 replaced_by A-3", "A-2 replaced_by A-4", "A-3 replaced_by A-4"}, "A-4", false, "Replaced by A-4 of A"},
		"nothing replaces": {[]string{"A-1 replaces A-2"}, "", false, ""},
	} {
		t.Run(name, func(t *testing.T) {
			n, id := joinedParts("A-1 A-2 A-3 A-4", nil, tc.refs...)
			s, ok := n.Successors(id["A-1"])
			if ok != (tc.says != "") {
				t.Fatalf("replaced: %v", ok)
			}
			if !ok {
				return
			}
			if got := numbers(s.Newest, " "); got != tc.newest || len(s.Circle) > 0 != tc.circle {
				t.Errorf("newest %q, circle %v; want %q, %v", got, s.Circle, tc.newest, tc.circle)
			}
			if !strings.Contains(s.Says(), tc.says) {
				t.Errorf("says %q, want %q", s.Says(), tc.says)
			}
		})
	}
}

// A supersession whose new part has a thicker flange is judged by its own sizes.
func TestANewPartIsJudgedByItsOwnSizes(t *testing.T) {
	thick := func(p *catalog.Part) { p.FlangeThickness = length("2.4", 2.4, p.OpeningTemp.Origin) }
	thin := func(p *catalog.Part) { p.FlangeThickness = length("1.6", 1.6, p.OpeningTemp.Origin) }
	n, id := joinedParts("A-1 A-2", map[string]func(*catalog.Part){"A-1": thin, "A-2": thick}, "A-1 replaced_by A-2")
	q := thermostatQuestion()
	q.Engine.SealForm = catalog.Say("flat", "flat", own("flat"))
	q.Engine.SeatDepth = length("1.7", 1.7, own("1.7"))
	links := tables(t).Links(n, []int64{id["A-1"]})
	v := judgeOne(t, q, Candidate{Part: new(*n.parts[id["A-2"]]), Links: links[id["A-2"]]})
	if v.Outcome == compat.Yes || !says(v, "flange thickness 2.4 mm, the old one 1.6 mm") || !says(v, "proud of its seat") {
		t.Errorf("%s %q\n%s", v.Outcome, v.First, told(v))
	}
}

func TestAGroupThatCannotBeRightNamesItsWeakestJoint(t *testing.T) {
	flat := func(p *catalog.Part) { p.SealForm = catalog.Say("flat", "flat", p.OpeningTemp.Origin) }
	ring := func(p *catalog.Part) { p.SealForm = catalog.Say("o-ring", "o-ring", p.OpeningTemp.Origin) }
	wide := func(p *catalog.Part) { p.FlangeDiameter = length("54.8", 54.8, p.OpeningTemp.Origin) }
	close := func(p *catalog.Part) { p.FlangeDiameter = length("54.1", 54.1, p.OpeningTemp.Origin) }
	for name, tc := range map[string]struct {
		change  map[string]func(*catalog.Part)
		refs    []string
		weakest string // the ends, empty: nothing is wrong
		says    string
	}{
		"ratings 5 K and more apart": {map[string]func(*catalog.Part){"C-1": opens(92)},
			[]string{"A-1 same B-1", "B-1 same A-1", "C-1 same B-1"}, "B-1 C-1", "opens at 82 °C and the second at 92 °C"},
		"the same rating in two units": {map[string]func(*catalog.Part){"C-1": opens(82.2)}, []string{"A-1 same B-1", "C-1 same B-1"}, "", ""},
		"flanges more than 0.5 mm":     {map[string]func(*catalog.Part){"B-1": wide}, []string{"A-1 same B-1"}, "A-1 B-1", "flange"},
		"flanges within 0.5 mm":        {map[string]func(*catalog.Part){"B-1": close}, []string{"A-1 same B-1"}, "", ""},
		"kinds of seal":                {map[string]func(*catalog.Part){"A-1": flat, "B-1": ring}, []string{"A-1 same B-1"}, "A-1 B-1", "seal"},
		"a supersession may differ":    {map[string]func(*catalog.Part){"B-1": opens(95)}, []string{"A-1 replaced_by B-1"}, "", ""},
		"by way of a part without facts": {map[string]func(*catalog.Part){"B-1": unstated, "C-1": opens(92)},
			[]string{"A-1 same B-1", "B-1 same A-1", "C-1 same B-1"}, "B-1 C-1", "only from one side"},
		"an unrelated joint is not named": {map[string]func(*catalog.Part){"B-1": unstated, "C-1": opens(92)},
			[]string{"A-1 same B-1", "B-1 same A-1", "C-1 same B-1", "D-1 same A-1"}, "B-1 C-1", ""},
	} {
		t.Run(name, func(t *testing.T) {
			n, _ := joinedParts("A-1 B-1 C-1 D-1", tc.change, tc.refs...)
			list := tables(t).Poisoned(n, units.System{})
			if (len(list) > 0) != (tc.weakest != "") {
				t.Fatalf("%d groups are poisoned", len(list))
			}
			if len(list) == 0 {
				return
			}
			if got := list[0].Weakest.A.Number + " " + list[0].Weakest.B.Number; got != tc.weakest {
				t.Errorf("the weakest joins %s, want %s: %s", got, tc.weakest, list[0].Says())
			}
			if !strings.Contains(list[0].Says(), tc.says) || len(list[0].Origins()) == 0 {
				t.Errorf("says %q, want %q", list[0].Says(), tc.says)
			}
		})
	}
}

// A part that hangs on the weakest joint of a poisoned group is in doubt; one on
// the listed part's own side of it is not.
func TestAPoisonedGroupDoubtsWhatHangsOnItsWeakestJoint(t *testing.T) {
	n, id := joinedParts("A-1 B-1 C-1 D-1", map[string]func(*catalog.Part){"B-1": unstated, "C-1": unstated, "D-1": opens(92)},
		"A-1 same B-1", "B-1 same A-1", "C-1 same A-1", "D-1 same C-1", "C-1 same D-1")
	group := tables(t).Poisoned(n, units.System{})[0]
	links := tables(t).Links(n, []int64{id["A-1"]})
	q := thermostatQuestion()
	for name, doubtful := range map[string]bool{"B-1": false, "C-1": true} {
		v := judgeOne(t, q, Candidate{Part: new(*n.parts[id[name]]), Links: links[id[name]], Poison: group})
		if got := strings.Contains(v.First, "doubtful"); got != doubtful || v.Outcome != compat.Caution {
			t.Errorf("%s: %s %q\n%s", name, v.Outcome, v.First, told(v))
		}
		if !says(v, "cannot all be right") {
			t.Errorf("%s does not say so:\n%s", name, told(v))
		}
	}
}
