package app

import (
	"context"
	"slices"
	"strconv"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/sqlite"
	"fitfill/compat"
	"fitfill/compat/fit"
	"fitfill/compat/job"
)

// jobParts collects and judges the parts that could fill the roles of a job.
type jobParts struct {
	shop   *Shop
	ask    asked
	keys   []string
	family *catalog.EngineFamily
	take   map[string]string

	verdicts map[string][]fit.Verdict
	lines    map[int64][]catalog.Fitment // of each part, for this engine
	others   []*catalog.Part             // the thermostats, once all are judged
	roles    map[string][]job.Candidate
	next     *NextQuestion // of the first place of which every part is in doubt
}

// gather judges what could fill each role. The hoses come first, so that the
// clamps are judged by the hose that is chosen.
func (p *jobParts) gather(ctx context.Context, v *sqlite.View, j job.Job) error {
	p.verdicts, p.roles, p.others = map[string][]fit.Verdict{}, map[string][]job.Candidate{}, nil
	ask := p.ask
	ask.Type = ""
	byType, _, err := p.shop.candidates(ctx, v, ask, p.keys, p.family)
	if err != nil {
		return err
	}
	known, err := p.shop.knownOf(ctx, v, p.ask, p.family, byType)
	if err != nil {
		return err
	}
	other := notOfLetter(p.family, p.ask.VIN8)
	for _, r := range j.Roles {
		if p.verdicts[r.Type] != nil || r.Type == "cleaner" {
			continue
		}
		cands := byType[r.Type]
		if r.Type == fit.Clamp {
			ask.Type = fit.Clamp
			clamps, _, err := p.shop.candidates(ctx, v, ask, p.keys, p.family)
			if err != nil {
				return err
			}
			cands = clamps[fit.Clamp]
		}
		if number, ok := p.take[r.Name]; ok {
			if cands, err = p.taken(ctx, v, r, number, cands); err != nil {
				return err
			}
		}
		for _, c := range cands {
			p.lines[c.Part.ID] = c.Listings
		}
		weighed := p.shop.fit().Weigh(known.question(r.Type, cands), cands)
		p.verdicts[r.Type] = weighed.Judge()
		for i := range p.verdicts[r.Type] {
			d := &p.verdicts[r.Type][i]
			doubtEngine(p.family, other, &d.Outcome, &d.First, &d.Findings)
		}
		certain := slices.ContainsFunc(p.verdicts[r.Type], func(d fit.Verdict) bool { return d.Outcome == compat.Yes })
		if p.next == nil && r.Need == "" && !certain && r.Type != fit.Clamp {
			if n, ok := weighed.Next(p.ask.shown); ok {
				p.next = nextQuestion(n)
			}
		}
	}
	money, err := p.shop.expecting(ctx, v)
	if err != nil {
		return err
	}
	for _, r := range j.Roles {
		if r.Type == "cleaner" {
			if p.roles[r.Name], err = p.cleaners(ctx, v); err != nil {
				return err
			}
			continue
		}
		p.roles[r.Name] = p.of(r)
		for i := range p.roles[r.Name] {
			p.roles[r.Name][i].Expected = money.of(p.roles[r.Name][i].Part)
		}
	}
	return nil
}

// taken adds a part that is wanted to the candidates of its type.
func (p *jobParts) taken(ctx context.Context, v *sqlite.View, r job.Role, number string, cands []fit.Candidate) ([]fit.Candidate, error) {
	for _, c := range cands {
		if c.Part.Key == catalog.Key(number) {
			return cands, nil
		}
	}
	ask := p.ask
	ask.Part, ask.Type = number, r.Type
	found, _, err := p.shop.candidates(ctx, v, ask, p.keys, p.family)
	if err != nil {
		return nil, err
	}
	for _, c := range found[r.Type] {
		if c.Part.Key == catalog.Key(number) {
			return append(cands, c), nil
		}
	}
	return nil, &UsageError{Problem: number + " is no " + r.Type, Hint: "see: fitfill find " + number}
}

// of returns the judged parts that could fill a role.
func (p *jobParts) of(r job.Role) []job.Candidate {
	var out []job.Candidate
	for _, d := range p.verdicts[r.Type] {
		if r.Measure != "" { // judged by a size that is not this place's: only what was asked for is shown, undecided
			if number, ok := p.take[r.Name]; ok && d.Part.Key == catalog.Key(number) {
				out = append(out, job.Candidate{Part: d.Part, First: r.MeasureFirst()})
			}
			continue
		}
		if !p.about(r, d.Part) || r.Type == fit.Clamp && !speaksFor(d) {
			continue
		}
		first := d.First
		if r.GoesOn != "" { // the list's own thermostat is not the one that is chosen here
			first = strings.Join(slices.DeleteFunc(strings.Split(first, "; "), func(s string) bool { return strings.HasPrefix(s, "on ") }), "; ")
		}
		out = append(out, job.Candidate{Part: d.Part, Outcome: d.Outcome, First: first, Findings: d.Findings, Listed: len(p.lines[d.Part.ID]) > 0, Pieces: pieces(p.lines[d.Part.ID])})
	}
	return out
}

// about reports whether a part's text says that it is for a role.
func (p *jobParts) about(r job.Role, part *catalog.Part) bool {
	if len(r.Words) == 0 {
		return true
	}
	text := " " + catalog.Fold(part.Description.Value+" "+part.Notes.Value)
	for _, l := range p.lines[part.ID] {
		text += " " + catalog.Fold(l.WhereFitted)
	}
	for _, w := range r.Words {
		if strings.Contains(text, " "+catalog.Fold(w)) {
			return true
		}
	}
	return false
}

// pieces is how many of a part its list says go into one engine.
func pieces(lines []catalog.Fitment) int {
	for _, l := range lines {
		if n, err := strconv.Atoi(strings.TrimSpace(l.Quantity)); err == nil && n > 0 {
			return n
		}
	}
	return 0
}

// together judges whether a seal goes on a thermostat.
func (p *jobParts) together(on, part *catalog.Part) (compat.Finding, bool) {
	if on.Type.Value != fit.Thermostat || part.Type.Value != fit.Seal {
		return compat.Finding{}, false
	}
	if p.others == nil { // every seal is asked about every thermostat
		p.others = make([]*catalog.Part, 0, len(p.verdicts[fit.Thermostat]))
		for i := range p.verdicts[fit.Thermostat] {
			p.others = append(p.others, p.verdicts[fit.Thermostat][i].Part)
		}
	}
	return p.shop.fit().SealOnThermostat(part, p.lines[part.ID], on, p.others, p.shop.Settings.Units)
}

// cleaners are judged by their label: lists name no engine for them.
func (p *jobParts) cleaners(ctx context.Context, v *sqlite.View) ([]job.Candidate, error) {
	ids, err := v.PartIDsOfType(ctx, "cleaner")
	if err != nil {
		return nil, err
	}
	parts, err := v.Parts(ctx, ids)
	if err != nil {
		return nil, err
	}
	var out []job.Candidate
	for i := range parts {
		f := p.shop.coolant().CleanerLabel(&parts[i])
		first := "its label names aluminium"
		if f.Outcome != compat.Yes {
			first = "its label does not name aluminium: ask its maker"
		}
		out = append(out, job.Candidate{Part: &parts[i], Outcome: f.Outcome, First: first, Findings: []compat.Finding{f}})
	}
	return out, nil
}
