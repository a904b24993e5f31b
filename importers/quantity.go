package importers

import (
	"errors"
	"fmt"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/pattern"
	"fitfill/catalog/units"
)

// quantity reads a number with its unit into the whole number of base units.
func (c *planColumn) quantity(text string) canon {
	var n int64
	var err error
	switch c.field.kind {
	case catalog.KindCount:
		return told(c.count(text))
	case catalog.KindMoney:
		return c.amount(text)
	case catalog.KindTemperature:
		var q units.Temperature
		if q, err = units.ParseTemperature(text, c.Unit); err != nil && c.field.name == "opening_temp" {
			if low, _, rangeErr := units.ParseTemperatureRange(text, c.Unit); rangeErr == nil {
				q, err = low, nil
			}
		}
		n = q.MilliCelsius()
	case catalog.KindLength:
		var q units.Length
		q, err = units.ParseLength(text, c.Unit)
		n = q.Nanometres()
	case catalog.KindVolume:
		var q units.Volume
		q, err = units.ParseVolume(text, c.Unit)
		n = q.Nanolitres()
	case catalog.KindDisplacement:
		var q units.Volume
		q, err = units.ParseDisplacement(text, c.Unit)
		n = q.Nanolitres()
	case catalog.KindPressure:
		var q units.Pressure
		q, err = units.ParsePressure(text, c.Unit)
		n = q.Millipascals()
	case catalog.KindPercent:
		n, err = c.percent(text)
	}
	if err != nil {
		if c.Stated && c.Unit == "" && !strings.ContainsFunc(text, isUnitSign) {
			return canon{problem: &problem{code: "unit-missing", why: fmt.Sprintf("%q has no unit, and most cells of this column have one: write the unit", text)}}
		}
		return canon{problem: parseProblem(kindCode[c.field.kind], err)}
	}
	return canon{text: decimals(n)}
}

// percent reads a share. In a column of fractions a bare number counts from 0
// to 1.
func (c *planColumn) percent(text string) (int64, error) {
	bare := !strings.Contains(text, "%")
	if bare && (c.Unit == percentUnit || c.Percent != "") {
		text += " %"
	}
	q, err := units.ParsePercent(text)
	n := q.TenThousandths()
	if err == nil && bare && c.Percent == Fraction {
		if n > 1e4 {
			return 0, fmt.Errorf("%q is more than the whole: write a number from 0 to 1", strings.TrimSuffix(text, " %"))
		}
		n *= 100
	}
	return n, err
}

var kindCode = map[catalog.Kind]string{
	catalog.KindTemperature: "temperature", catalog.KindLength: "length", catalog.KindVolume: "volume",
	catalog.KindDisplacement: "displacement", catalog.KindPressure: "pressure", catalog.KindPercent: "percent",
	catalog.KindMoney: "price", catalog.KindCount: "count",
}

func parseProblem(code string, err error) *problem {
	if errors.Is(err, units.ErrAmbiguous) {
		code += "-unclear"
	}
	return &problem{code: code, why: err.Error()}
}

// signed writes the long minus, and the minus that bookkeeping programs print
// behind a number, as a minus in front of it.
func signed(text string) string {
	text = strings.ReplaceAll(text, "−", "-")
	if rest, ok := strings.CutSuffix(text, "-"); ok && digitAt(rest, len(rest)-1) && !has(rest, '-') {
		return "-" + rest
	}
	return text
}

// count reads a number of pieces into thousandths; a word for pieces may stand
// behind it.
func (c *planColumn) count(text string) (string, *problem) {
	if c.field.name == "quantity" {
		text = signed(text)
	}
	number := text
	if i := strings.LastIndexAny(text, "0123456789"); i >= 0 && i+1 < len(text) && c.voc.words["pieces"][fold(text[i+1:])] != nil {
		number = trim(text[:i+1])
	}
	n, ok := scaled(number, 3)
	if !ok || strings.Contains(number, ",") {
		return "", &problem{code: "count", why: fmt.Sprintf("%q is not a number of pieces: write digits alone", text)}
	}
	if c.Fractions == "hold" && n%1000 != 0 {
		return "", &problem{code: "quantity-fraction", why: "this is no whole number of pieces: write how many, or say --set fractions=measure if goods are sold by measure"}
	}
	return decimals(n), nil
}

// dashedCents finds the dash that stands for no cents, as in "12,-" and "CHF 12.--"
// (common practice).
var dashedCents = pattern.New(`^([^-–—]*\d)[.,][-–—]{1,2}([^-–—\d]*)$`)

// eachPiece takes the words off a price that say it is for one piece, as in "12,50
// EUR/Stk."; a price for anything else keeps them and is held.
func (c *planColumn) eachPiece(text string) string {
	at := joinsBasis.FindStringIndex(text)
	if at == nil || at[0] == 0 {
		return text
	}
	if of := c.voc.words["price_per"][wordKey(text[at[1]:])]; len(of) == 1 && of[0] == "each" && (c.Per == "" || c.Per == "each") && !c.basisApart {
		return trim(text[:at[0]])
	}
	return text
}

// amount reads a price into ten-thousandths and its currency. A price of zero
// states nothing: it is never free. A price below zero is a credit.
func (c *planColumn) amount(text string) canon {
	n, ok := scaled(text, 4)
	if !ok {
		text = c.eachPiece(text)
		if m := dashedCents.FindStringSubmatch(text); m != nil {
			text = m[1] + m[2]
		}
	}
	currency := c.Currency
	if !ok || c.Decimal == "" && marksOf(strings.TrimPrefix(text, "-"), true).vote() == unclearMark {
		m, err := units.ParseMoney(text, c.Currency)
		if err != nil {
			return canon{problem: parseProblem("price", err)}
		}
		n, currency = m.TenThousandths(), m.Currency()
	}
	note := ""
	if c.field.name == "unit_price" {
		n = perPiece(n, c.pieces())
	}
	switch {
	case n == 0:
		return canon{note: "price-zero"}
	case n < 0:
		note = "price-negative"
	}
	if currency != "" {
		return canon{text: decimals(n) + " " + currency, note: note}
	}
	return canon{text: decimals(n), note: note}
}
