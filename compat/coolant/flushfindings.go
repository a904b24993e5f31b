package coolant

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"fitfill/catalog"
	"fitfill/catalog/units"
	"fitfill/compat"
)

const (
	checkOld     = "old coolant"
	checkTrap    = "rinse water"
	checkCleaner = "cleaner"
)

// oldFinding says how much of the old coolant may stay, why, and what does.
func (p *flushing) oldFinding(high brew) {
	c, t := &p.course, p.t
	old, fresh := "what is in there", t.families[p.new].name
	f := compat.Finding{Check: checkOld, Outcome: compat.Yes, Grade: compat.CommonPractice}
	if p.worst >= 0 {
		pair := t.pairs[p.worst][p.new]
		old = t.families[p.worst].name
		f.Origin = append(f.Origin, compat.Cite(pair.row), compat.Cite(pair.class.bands[0].row))
	}
	if len(p.from.may) > 1 {
		old = "what it may be at worst, " + old + ","
	}
	left := fmt.Sprintf("%.2g %% of the old fill stays", c.left(c.rounds))
	switch {
	case p.hopeless():
		f.Outcome = compat.No
		f.Says = fmt.Sprintf("Any trace of %s in %s counts, and each round leaves some: only with everything emptied, hoses off, does it go.", old, fresh)
	case p.shareMax >= 100:
		f.Says = fmt.Sprintf("%s and %s go together in any share; %s.", capital(old), fresh, left)
	default:
		f.Says = fmt.Sprintf("Up to %.3g %% of the concentrate may be %s beside %s and still be a clean yes; %s, %.2g %% of the concentrate.", p.shareMax, old, fresh, left, high.foreign())
	}
	if p.leftMax < 100 {
		f.Says += fmt.Sprintf(" Asked for: at most %.3g %% of the old fill.", p.leftMax)
	}
	switch {
	case !p.little:
		f.Outcome = compat.No
	case p.shareMax < 100 && high.foreign() > p.shareMax+rounding:
		f.Outcome = compat.Caution
		f.Says += " With that the next top-off is judged as one onto a mix."
	}
	p.note(f)
}

// strengthFinding says whether the end is strong enough and what stands in the
// way: the rinse water that does not drain thins the last fill.
func (p *flushing) strengthFinding(low, high brew, strong bool) {
	if p.hopeless() {
		return
	}
	c := &p.course
	f := compat.Finding{
		Check: checkStrength, Outcome: compat.Yes, Grade: compat.Measured, Origin: p.bottleEvidence(),
		Says: fmt.Sprintf("It ends at %.3g %%.", low.strength()),
	}
	if low.strength()+1 < high.strength() {
		f.Says = fmt.Sprintf("It ends between %.3g and %.3g %%: the old fill's strength is not known (--from-strength).", low.strength(), high.strength())
	}
	if _, over := c.refill(); over {
		f.Says = fmt.Sprintf("It ends at %.3g %%, stronger than asked for: the old fill is stronger.", low.strength())
	}
	if !p.to.exact && p.to.high > 0 {
		f.Says += fmt.Sprintf(" Counted with concentrate of %.3g %%; say --to-strength if the bottle is another.", c.bottle)
	}
	if !strong {
		f.Outcome = compat.No
		f.Says = fmt.Sprintf("It cannot end at %.3g %%: at most %.3g %%.", c.target, low.strength())
		if c.rounds > c.fresh {
			f.Check = checkTrap
			f.Says += fmt.Sprintf(" %s of rinse water stays in when the last fill goes on top, and thins it.", p.q.Show.FormatVolume(litres(c.volume-c.drain)))
		}
	}
	p.note(f)
}

func (p *flushing) bottleEvidence() []compat.Evidence {
	if b := p.to.fluid.Product; b != nil && b.Strength.Origin.Known() {
		return []compat.Evidence{compat.From(b.Strength.Origin)}
	}
	if p.premix {
		return []compat.Evidence{compat.Cite(p.t.limits["premix_strength"].row)}
	}
	return []compat.Evidence{compat.Cite(p.t.limits["concentrate_strength"].row)}
}

// coldFinding checks the end against the coldest day.
func (p *flushing) coldFinding(freeze *Figure[units.Temperature, units.TempDelta]) {
	if freeze == nil || p.t.families[p.new].id == waterID {
		return
	}
	show, t := p.q.Show, p.t
	at := show.FormatTemperature(freeze.Value)
	if !p.q.Coldest.Known {
		p.note(compat.NotChecked(checkCold, "the coldest day expected", "It ends at about "+at+"; name the coldest day with --coldest to check that, and each round."))
		return
	}
	f := compat.Finding{
		Check: checkCold, Outcome: compat.Yes, Grade: compat.Standard, Origin: []compat.Evidence{compat.Cite(t.freezeRow), compat.Cite(t.limits["freeze_margin"].row)},
		Says: "It ends at about " + at + ", enough for " + show.FormatTemperature(p.q.Coldest.Value) + ".",
	}
	if freeze.Value.Celsius() > p.q.Coldest.Value.Celsius()-t.lim.freezeMargin+1e-9 {
		f.Outcome = compat.Caution
		f.Says = fmt.Sprintf("It ends at about %s: not enough for %s with %s to spare.", at, show.FormatTemperature(p.q.Coldest.Value), show.FormatTempDelta(units.Kelvins(t.lim.freezeMargin)))
	}
	p.note(f)
}

// judgeAfter asks of the end what is asked of every top-off: does the engine
// ask for this coolant, do liners and radiator take it.
func (p *flushing) judgeAfter(high, low brew) {
	if p.q.Engine == nil {
		p.note(compat.NotChecked(checkCoolant, "the engine", "Name the engine to check what its maker asks for."))
		return
	}
	part := units.Percents(high.foreign())
	fill := Fluid{
		Said: p.q.To.Said, Glycol: p.to.glycol, Strength: catalog.Say(units.Percents(low.strength()), "", catalog.Origin{}),
		Mixed: []Share{{p.t.families[p.new].id, units.Percents(100 - part.Percents())}},
	}
	if p.worst >= 0 && p.worst != p.new {
		fill.Mixed = append(fill.Mixed, Share{p.t.families[p.worst].id, part})
	}
	top := litres(p.course.volume * p.t.lim.volumePM / 100)
	a := p.t.Mix(Question{
		Engine: p.q.Engine, Circuit: p.q.Circuit, Fill: fill, Add: p.q.To, Show: p.q.Show,
		FillVolume: catalog.Say(litres(p.course.volume).Sub(top), "", catalog.Origin{}), AddVolume: catalog.Say(top, "", catalog.Origin{}),
	})
	engines := []string{checkCoolant, checkExcluded, checkLiner, checkRadiator, checkNitrite}
	for _, f := range a.Findings {
		if slices.Contains(engines, f.Check) {
			p.note(f)
		}
	}
	for _, f := range a.NotChecked {
		if slices.Contains(engines, f.Check) {
			p.note(f)
		}
	}
}

// CleanerLabel reads whether a cleaner's label says that aluminium stands it.
func (t *Tables) CleanerLabel(b *catalog.Part) compat.Finding {
	for _, cell := range []catalog.Stated[string]{b.Description, b.Notes} {
		if text := catalog.Fold(cell.Value); strings.Contains(text, "alumini") && !strings.Contains(text, "not for alumini") || strings.Contains(text, "aluminum") && !strings.Contains(text, "not for aluminum") {
			return compat.Finding{Check: checkCleaner, Outcome: compat.Yes, Grade: compat.Label, Says: "The cleaner's label names aluminium.", Origin: cite(cell.Origin)}
		}
	}
	return compat.Finding{
		Check: checkCleaner, Outcome: compat.Caution, Grade: compat.Label, Origin: cite(b.Description.Origin),
		Says: "Nothing on " + b.Supplier + " " + b.Number + " says that aluminium stands it: ask its maker, and neutralise it.",
	}
}

// cleaner reads the cleaner's label. It costs a round, and one to neutralise it
// where the label does not say that aluminium stands it.
func (p *flushing) cleaner() {
	if p.q.Cleaner == nil {
		return
	}
	f := p.t.CleanerLabel(p.q.Cleaner)
	p.extra = 1
	if f.Outcome != compat.Yes {
		p.extra = 2
	}
	p.note(f)
}

// first is the first line of the plan.
func (p *flushing) first(out *FlushPlan) string {
	c, show := &p.course, p.q.Show
	switch {
	case p.hopeless():
		return "cannot be reached by draining: any trace counts"
	case !p.little:
		return fmt.Sprintf("cannot be reached that way: %.2g %% of the old stays", c.left(c.rounds))
	case !out.Reachable:
		return fmt.Sprintf("cannot be reached that way: %.3g %% at most, not %.3g %%", out.Final.Percents(), c.target)
	}
	word := "rounds"
	if c.rounds == 1 {
		word = "round"
	}
	line := fmt.Sprintf("%d %s: %s of coolant, %s of water; ends at %.3g %%", c.rounds, word, show.FormatVolume(out.Bottle), show.FormatVolume(out.Water), out.Final.Percents())
	if utf8.RuneCountInString(line) > longestFirst || out.Water.Nanolitres() == 0 {
		line = fmt.Sprintf("%d %s, %s of coolant; ends at %.3g %%", c.rounds, word, show.FormatVolume(out.Bottle), out.Final.Percents())
	}
	return line
}

func capital(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}
