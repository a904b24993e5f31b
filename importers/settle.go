package importers

import (
	"fmt"

	"fitfill/catalog"
	"fitfill/catalog/units"
)

// settleReading decides how the values of a mapped column are read, or asks.
func (p *proposal) settleReading(c *candidate) {
	switch c.field.kind {
	case catalog.KindText, catalog.KindBool, catalog.KindYears:
	case catalog.KindDate:
		p.settleDates(c)
	default:
		p.settleDecimal(c)
		p.settleUnit(c)
	}
	if c.field.kind == catalog.KindMoney && c.Currency == "" {
		c.Currency = p.settings["currency"]
	}
}

func (p *proposal) settleDecimal(c *candidate) {
	e := &c.seen
	switch {
	case p.settings["decimal"] != "":
		c.Decimal = p.settings["decimal"]
	case e.comma > 0 && e.comma >= e.point:
		c.Decimal = Comma
	case e.point > 0:
		c.Decimal = Point
	case e.unclear > 0 && c.Decimal == "":
		p.ask("--set decimal=comma or --set decimal=point", []string{Comma, Point},
			"In column %q every value with a mark has two readings, like %s. Which mark is the decimal mark?", c.Heading, e.unclearText)
	}
}

func (p *proposal) settleDates(c *candidate) {
	e := &c.seen
	switch {
	case p.settings["dates"] != "":
		c.Dates = p.settings["dates"]
	case e.dmy > 0 && e.mdy == 0:
		c.Dates = "dmy"
	case e.mdy > 0 && e.dmy == 0:
		c.Dates = "mdy"
	case e.dmy > 0 && e.mdy > 0 && c.Dates == "":
		p.ask("--set dates=dmy or --set dates=mdy", []string{"dmy", "mdy"},
			"Column %q holds dates with the day first and dates with the month first. Which order do the doubtful ones have?", c.Heading)
	case e.anyOrder > 0 && c.Dates == "":
		p.ask("--set dates=dmy or --set dates=mdy", []string{"dmy", "mdy"},
			"In column %q no date shows whether the day or the month comes first, like %s. Which comes first?", c.Heading, e.orderText)
	}
}

var unitChoices = map[catalog.Kind][]string{
	catalog.KindLength:   {"mm", "cm", "in"},
	catalog.KindVolume:   {"L", "mL", "US qt", "US gal", "imp gal"},
	catalog.KindPressure: {"kPa", "bar", "psi"},
}

// settleUnit asks for the unit of a column whose numbers mostly stand alone.
// Temperatures and displacements have a usual reading of bare numbers, which
// belongs to their parse functions.
func (p *proposal) settleUnit(c *candidate) {
	if u := p.settings.unitFor(c.field.kind); u != "" {
		c.Unit = u
	}
	choices := unitChoices[c.field.kind]
	if c.Unit != "" || choices == nil || c.seen.bare == 0 || c.seen.withUnit > c.seen.bare {
		return
	}
	p.ask(fmt.Sprintf("--set unit=%q", units.Unit(choices[0])), choices,
		"Column %q (%s) holds numbers without a unit. Which unit are they in?", c.Heading, c.seen.examples())
}
