package app

import (
	"context"
	"slices"

	"fitfill/catalog"
	"fitfill/catalog/sqlite"
	"fitfill/compat"
	"fitfill/compat/audit"
	"fitfill/compat/fit"
)

// AuditAnswer is what the sheets say against each other, against the sizes and
// against the garage's own facts, the most costly first.
type AuditAnswer struct {
	Supplier string          `json:"supplier,omitempty"` // whose sheets were looked at; empty: everybody's
	Engines  int             `json:"engines"`
	Listings int             `json:"listings"`
	Rule     string          `json:"rule"`
	Findings []audit.Finding `json:"findings"`
}

// auditRule says in which order the findings stand.
const auditRule = "most costly first: pieces bought of the part, then engines, then parts concerned"

// Audit looks through everything that lists say of every engine. With a supplier
// it returns only what that supplier's sheets say wrong. Where progress is not
// nil it is called after each engine with those done and all of them.
func (s *Shop) Audit(ctx context.Context, supplier string, progress func(done, all int)) (AuditAnswer, error) {
	a := AuditAnswer{Rule: auditRule, Findings: []audit.Finding{}}
	tables, err := audit.NewTables(s.ref)
	if err != nil {
		return a, err
	}
	err = s.store.View(ctx, func(v *sqlite.View) error {
		suppliers, err := v.Suppliers(ctx)
		if err != nil {
			return err
		}
		if a.Supplier, err = supplierName(supplier, suppliers); err != nil {
			return err
		}
		set := audit.Settings{Show: s.Settings.Units}
		if set.Bought, err = bought(ctx, v); err != nil {
			return err
		}
		run := tables.New(set)
		if err := s.auditEngines(ctx, v, run, &a, progress); err != nil {
			return err
		}
		if err := s.auditGroups(ctx, v, run); err != nil {
			return err
		}
		for _, f := range run.Findings() {
			if a.Supplier != "" && f.Supplier != a.Supplier {
				continue
			}
			if err := lineTexts(ctx, v, f.Lines); err != nil {
				return err
			}
			if err := fillTexts(ctx, v, f.Own); err != nil {
				return err
			}
			a.Findings = append(a.Findings, f)
		}
		return nil
	})
	return a, err
}

// auditEngines shows the auditor every engine of the garage's sheets and of the
// lists, judged as fit judges it.
func (s *Shop) auditEngines(ctx context.Context, v *sqlite.View, run *audit.Auditor, a *AuditAnswer, progress func(done, all int)) error {
	families, err := v.Families(ctx)
	if err != nil {
		return err
	}
	known := map[string]bool{}
	for _, f := range families {
		for _, n := range f.Names() {
			known[catalog.Key(n)] = true
		}
	}
	vehicles, err := v.Vehicles(ctx)
	if err != nil {
		return err
	}
	driven := map[string]bool{} // engines of which the garage has seen a vehicle
	for _, c := range vehicles {
		driven[catalog.Key(c.Engine)] = true
	}
	texts, err := v.EngineTexts(ctx)
	if err != nil {
		return err
	}
	for _, t := range texts {
		if !known[t.Key] && !s.describesAny(t, families) {
			families = append(families, catalog.EngineFamily{Family: t.Text})
		}
	}
	for i := range families {
		seen := slices.ContainsFunc(families[i].Names(), func(n string) bool { return driven[catalog.Key(n)] })
		e, listings, err := s.auditEngine(ctx, v, &families[i], seen)
		if err != nil {
			return err
		}
		run.Engine(e)
		a.Engines++
		a.Listings += listings
		if progress != nil {
			progress(a.Engines, len(families))
		}
	}
	return nil
}

// auditEngine judges everything that lists name for one engine, by what the
// garage measured and fitted as well where it has seen a vehicle of it.
func (s *Shop) auditEngine(ctx context.Context, v *sqlite.View, family *catalog.EngineFamily, seen bool) (e audit.Engine, listings int, err error) {
	e.Family = *family
	var keys []string
	for _, n := range family.Names() {
		keys = append(keys, catalog.Key(n))
	}
	byType, _, err := s.candidates(ctx, v, asked{}, slices.Compact(slices.Sorted(slices.Values(keys))), family)
	if err != nil {
		return e, 0, err
	}
	known := &knownOf{shop: s, family: family}
	if seen {
		if known, err = s.knownOf(ctx, v, asked{}, family, byType); err != nil {
			return e, 0, err
		}
	}
	for partType, list := range byType {
		question := known.question(partType, list)
		e.Family = question.Engine // with what was measured when parts were fitted
		var lines []fit.Listing
		of := map[int64]*fit.Candidate{}
		for i := range list {
			of[list[i].Part.ID] = &list[i]
			for k := range list[i].Listings {
				lines = append(lines, fit.Listing{Supplier: list[i].Part.Supplier, Fitment: &list[i].Listings[k]})
			}
		}
		for _, slip := range fit.Slips(lines) {
			e.Slips = append(e.Slips, audit.Slip{Written: slip.Written, Meant: slip.Meant, Suppliers: slip.Suppliers, Lines: slip.Origins})
		}
		for _, verdict := range s.fit().Judge(question, list) {
			c := of[verdict.Part.ID]
			if len(c.Listings) == 0 {
				continue
			}
			listings += len(c.Listings)
			e.Parts = append(e.Parts, audit.Listed{
				Part: *c.Part, Fitments: c.Listings, Refuted: verdict.Refuted, Excluded: verdict.Excluded, Opens: s.fit().Opens(c.Part), Place: s.fit().Place(c.Part),
				Own: ownOf(&question, &verdict), Doubted: doubtedBy(&verdict),
			})
		}
	}
	if b := fit.BoltOf(family); b.Torque.Known {
		b.Show = s.Settings.Units
		t := s.fit().JudgeTorque(b)
		e.Torque = &audit.Torque{Outcome: t.Outcome, Says: t.First, Findings: t.Findings, Origin: b.Torque.Origin}
	}
	return e, listings, nil
}

// doubtedBy names the checks by which sizes doubt a part.
func doubtedBy(verdict *fit.Verdict) (checks []string) {
	for _, f := range verdict.Findings {
		if f.Grade == compat.Measured && f.Outcome == compat.Caution {
			checks = append(checks, f.Check)
		}
	}
	return checks
}

// ownOf is what the garage itself saw of a part.
func ownOf(q *fit.Question, verdict *fit.Verdict) audit.Own {
	own := audit.Own{NoFit: fit.TimesNoFit(q, verdict.Part)}
	for _, f := range verdict.Findings {
		if f.Check == checkBefore {
			own.Seen = append(own.Seen, f)
			own.Stayed = own.Stayed || f.Outcome == compat.Yes
		}
	}
	if measured := fit.MeasuredParts(q, verdict.Part); len(measured) > 0 {
		own.Flange = measured[0].FlangeDiameter
	}
	return own
}

// referencesAtOnce is how many parts' cross-references are followed together, so
// that only their groups are in memory.
const referencesAtOnce = 500

// auditGroups shows the auditor the groups of cross-references that cannot be
// right, and supersessions that run in a circle.
func (s *Shop) auditGroups(ctx context.Context, v *sqlite.View, run *audit.Auditor) error {
	ids, err := v.PartsWithReferences(ctx)
	if err != nil {
		return err
	}
	seen, poisoned, circles := map[int64]bool{}, map[[2]int64]bool{}, map[int64]bool{}
	for len(ids) > 0 {
		var from []int64
		for len(ids) > 0 && len(from) < referencesAtOnce {
			if !seen[ids[0]] {
				from = append(from, ids[0])
			}
			ids = ids[1:]
		}
		n, err := network(ctx, v, from, everyCrossing, nil)
		if err != nil {
			return err
		}
		for _, p := range n.Parts() {
			seen[p.ID] = true
		}
		for _, g := range s.fit().Poisoned(n, s.Settings.Units) {
			w := [2]int64{g.Weakest.A.ID, g.Weakest.B.ID}
			if !poisoned[w] {
				poisoned[w] = true
				run.Group(audit.Group{Check: audit.GroupCheck, Says: g.Says(), Parts: values(g.Members), Ends: values([]*catalog.Part{g.Weakest.A, g.Weakest.B}), Lines: g.Weakest.Origins, Others: g.Origins()})
			}
		}
		for _, p := range n.Parts() {
			c, ok := n.Successors(p.ID)
			if !ok || len(c.Circle) == 0 || circles[c.Circle[0].ID] {
				continue
			}
			for _, m := range c.Circle {
				circles[m.ID] = true
			}
			var evidence []compat.Evidence
			for _, o := range c.Origins() {
				evidence = append(evidence, compat.From(o))
			}
			run.Group(audit.Group{Check: audit.CircleCheck, Says: c.Says(), Parts: values(c.Circle), Ends: values(c.Circle), Lines: c.Origins(), Others: evidence})
		}
	}
	return nil
}

func values(list []*catalog.Part) []catalog.Part {
	var out []catalog.Part
	for _, p := range list {
		out = append(out, *p)
	}
	return out
}

// bought counts the pieces bought of each part, all purchases on file.
func bought(ctx context.Context, v *sqlite.View) (func(supplier, key string) int, error) {
	purchases, err := v.Purchases(ctx)
	if err != nil {
		return nil, err
	}
	names, err := supplierNames(ctx, v)
	if err != nil {
		return nil, err
	}
	counts := map[[2]string]int64{}
	for _, p := range purchases {
		name := names[catalog.Fold(p.Supplier)]
		if name == "" {
			name = p.Supplier
		}
		counts[[2]string{name, catalog.Key(p.Number)}] += p.Quantity.Thousandths()
	}
	return func(supplier, key string) int {
		return int(catalog.CountOf(counts[[2]string{supplier, key}]).Float())
	}, nil
}
