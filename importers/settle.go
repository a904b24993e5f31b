package importers

import (
	"strconv"
	"strings"

	"fitfill/catalog"
)

// settleReading decides how the values of a mapped column are read, or asks.
func (p *proposal) settleReading(c *candidate) {
	switch c.field.kind {
	case catalog.KindText:
		switch c.Field {
		case "number":
			p.settleNumbers(c)
		case "barcode":
			p.settleBarcodes(c)
		case "engine":
			p.settleEngines(c)
		}
	case catalog.KindBool:
	case catalog.KindYears:
		p.settleYears(c)
	case catalog.KindDate:
		p.settleDates(c)
	default:
		p.settleDecimal(c)
		p.settleUnit(c)
	}
	if c.field.kind == catalog.KindMoney {
		if said, own := p.settingFor(c, "currency"); own || c.Currency == "" {
			c.Currency = said
		}
		p.settleBasis(c)
	}
	if c.field.kind == catalog.KindPercent {
		p.settlePercent(c)
	}
	if c.Field == "quantity" && c.field.kind == catalog.KindCount {
		p.settleFractions(c)
		p.settleMinus(c)
	}
}

// settleDecimal takes the mark that the column's own values prove, and a
// person's word where they prove none. Where both marks often stand for decimals
// and the second never for thousands, either is read as one; a few strays do not
// fit.
func (p *proposal) settleDecimal(c *candidate) {
	e := &c.seen
	onlyLone := func(votes, lone int) bool { return votes > 0 && votes == lone }
	said, own := p.settingFor(c, "decimal")
	c.Mixed = false
	switch {
	case own:
		c.Decimal = said
	case e.comma > 0 && e.point == 0:
		c.Decimal = Comma
	case e.point > 0 && e.comma == 0:
		c.Decimal = Point
	case said != "":
		c.Decimal = said
	case e.comma > e.point:
		c.Decimal = Comma
	case e.point > e.comma:
		c.Decimal = Point
	case e.comma > 0 && (onlyLone(e.comma, e.loneComma) || onlyLone(e.point, e.lonePoint)):
		c.Decimal = Comma
		if onlyLone(e.comma, e.loneComma) && !onlyLone(e.point, e.lonePoint) {
			c.Decimal = Point
		}
	case e.comma > 0 && c.Decimal == "":
		p.askReading(c, "decimal", "decimal", []string{Comma, Point},
			"In column %q as many values have a decimal comma as a decimal point. Which mark is the decimal mark?", c.Heading)
	case e.unclear > 0 && c.Decimal == "":
		p.askReading(c, "decimal", "decimal", []string{Comma, Point},
			"In column %q every value with a mark has two readings, like %s. Which mark is the decimal mark?", c.Heading, e.unclearText)
	}
	few := p.voc.limits.get("mixed_marks_share")
	switch c.Decimal {
	case Comma:
		c.Mixed = onlyLone(e.point, e.lonePoint) && share(e.point, e.point+e.comma) >= few
	case Point:
		c.Mixed = onlyLone(e.comma, e.loneComma) && share(e.comma, e.point+e.comma) >= few
	}
}

func (p *proposal) settleDates(c *candidate) {
	e := &c.seen
	said, own := p.settingFor(c, "dates")
	switch {
	case own:
		c.Dates = said
	case e.dmy > 0 && e.mdy == 0 && said != "ymd":
		c.Dates = "dmy"
	case e.mdy > 0 && e.dmy == 0 && said != "ymd":
		c.Dates = "mdy"
	case said != "":
		c.Dates = said
	case e.dmy > 0 && e.mdy > 0 && c.Dates == "":
		p.askReading(c, "dates", "dates", []string{"dmy", "mdy"},
			"Column %q holds dates with the day first and dates with the month first. Which order do the doubtful ones have?", c.Heading)
	case e.anyOrder > 0 && c.Dates == "":
		p.askReading(c, "dates", "dates", []string{"dmy", "mdy"},
			"In column %q no date shows whether the day or the month comes first, like %s. Which comes first?", c.Heading, e.orderText)
	}
}

// settleYears asks how arrows are read, and pairs that no other value of the
// column explains.
func (p *proposal) settleYears(c *candidate) {
	e := &c.seen
	if said, _ := p.settingFor(c, "arrows"); said != "" {
		c.Arrows = said
	}
	if e.arrows > 0 && c.Arrows == "" {
		p.askReading(c, "arrows", "arrows", []string{"timeline", "compare"},
			"In column %q arrows have two readings, like %s. Is the arrow the course of time (>92 is up to 1992) or does it compare (>92 is 1992 and later)?", c.Heading, e.arrowText)
	}
	said, own := p.settingFor(c, "pairs")
	switch {
	case own:
		c.Pairs = said
	case e.pairMonths > 0 && e.pairYears == 0:
		c.Pairs = "month"
	case e.pairYears > 0 && e.pairMonths == 0:
		c.Pairs = "years"
	case said != "":
		c.Pairs = said
	case e.pairs > 0 && c.Pairs == "":
		p.askReading(c, "pairs", "pairs", []string{"month", "years"},
			"In column %q pairs have two readings, like %s. Are they a month and a year, or two years?", c.Heading, e.pairText)
	}
}

// settleNumbers asks about part numbers that end in ".0".
func (p *proposal) settleNumbers(c *candidate) {
	if said, _ := p.settingFor(c, "point-zero"); said != "" {
		c.PointZero = said
	}
	if said, _ := p.settingFor(c, "pad"); said != "" {
		c.Pad, _ = strconv.Atoi(said)
	}
	p.askZeros(c)
	if s := share(c.seen.pointZero, c.seen.filled); c.PointZero == "" && c.seen.pointZero > 0 && s >= p.voc.limits.get("point_zero_share") {
		p.askReading(c, "point-zero", "point-zero", []string{"strip", "keep"},
			`In column %q %s in ".0", which spreadsheets add to numbers. Should it be taken off?`, c.Heading, percentOf(s, "of the part numbers end"))
	}
}

func (p *proposal) settlePercent(c *candidate) {
	e := &c.seen
	said, own := p.settingFor(c, "percent")
	switch {
	case own:
		c.Percent = said
	case c.Unit == percentUnit || e.withUnit > e.bare || e.shares > 0:
		c.Percent = ""
	case said != "":
		c.Percent = said
	case e.parts > 0 && c.Percent == "":
		p.askReading(c, "percent", "percent", []string{Fraction, Hundred},
			"In column %q no value is above 1, like %s. Is 0.5 half of the whole (fraction) or half of one per cent (hundred)?", c.Heading, e.shareText)
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
	choices := unitChoices[c.field.kind]
	c.Stated = choices != nil && c.seen.withUnit > c.seen.bare && c.seen.bare > 0
	said, own := p.settingFor(c, "unit")
	if u := unitIn(said, c.field.kind); u != "" && (own || !p.headingHasUnit(c)) {
		c.Unit = u
	}
	if c.Unit != "" || choices == nil || c.seen.bare == 0 || c.seen.withUnit > c.seen.bare {
		return
	}
	if c.field.kind == catalog.KindLength && strings.Contains(c.seen.examples(), "/") {
		choices = []string{"in", "mm", "cm"} // fractions are inches
	}
	p.askReading(c, "unit", "unit", choices,
		"Column %q (%s) holds numbers without a unit. Which unit are they in?", c.Heading, c.seen.examples())
}

// headingHasUnit reports whether the column's own heading states the unit, which
// beats what is said of the sheet.
func (p *proposal) headingHasUnit(c *candidate) bool {
	for _, part := range headingParts(p.sheet.Header[c.Index]) {
		if u, _ := p.voc.unitOf(c.field.kind, part.unit); u != "" {
			return true
		}
	}
	return false
}

// settleFractions asks about pieces that are no whole number: litres of a coolant
// are sold so, thermostats are not.
func (p *proposal) settleFractions(c *candidate) {
	if said, _ := p.settingFor(c, "fractions"); said != "" {
		c.Fractions = said
	}
	if c.seen.fractions == 0 || c.Fractions != "" {
		return
	}
	p.askReading(c, "fractions", "fractions", []string{"measure", "hold"},
		"In column %q some numbers of pieces are not whole, like %s. Are goods sold by measure, such as litres, or are those rows to be held?", c.Heading, c.seen.fractionText)
}

// settleMinus asks what pieces below zero are in a sheet of returns: some books
// write all that leaves the shop with a minus, others take a return back with one.
func (p *proposal) settleMinus(c *candidate) {
	if said, _ := p.settingFor(c, "minus"); said != "" {
		c.Minus = said
	}
	if p.kind.kind != catalog.ReturnsSheet || c.seen.below == 0 || c.Minus != "" {
		return
	}
	p.askReading(c, "minus", "minus", []string{MinusBack, MinusUndo, "hold"},
		"In column %q %d numbers of pieces are below zero, such as %s. Did those pieces come back like the others (back), do they take an earlier return back (undo), or are those rows to be held?", c.Heading, c.seen.below, c.seen.belowText)
}
