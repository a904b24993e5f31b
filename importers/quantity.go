package importers

import (
	"errors"
	"fmt"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/units"
)

// quantity reads a number with its unit into the whole number of base units.
func (c *planColumn) quantity(text string) (string, *problem) {
	var n int64
	var err error
	switch c.field.kind {
	case catalog.KindCount:
		return c.count(text)
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
		if c.Unit == percentUnit && !strings.Contains(text, "%") {
			text += " %"
		}
		var q units.Percent
		q, err = units.ParsePercent(text)
		n = q.TenThousandths()
	}
	if err != nil {
		return "", parseProblem(kindCode[c.field.kind], err)
	}
	return decimals(n), nil
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

// count reads a number of pieces into thousandths; a word for pieces may stand
// behind it.
func (c *planColumn) count(text string) (string, *problem) {
	number := text
	if i := strings.LastIndexAny(text, "0123456789"); i >= 0 && i+1 < len(text) && c.voc.words["pieces"][fold(text[i+1:])] != nil {
		number = trim(text[:i+1])
	}
	n, ok := scaled(number, 3)
	if !ok || strings.Contains(number, ",") {
		return "", &problem{code: "count", why: fmt.Sprintf("%q is not a number of pieces: write digits alone", text)}
	}
	return decimals(n), nil
}

// amount reads a price into ten-thousandths and its currency. A price of zero
// states nothing: it is never free.
func (c *planColumn) amount(text string) (string, *problem) {
	n, ok := scaled(text, 4)
	currency := c.Currency
	if !ok || c.Decimal == "" && markVote(strings.TrimPrefix(text, "-"), true) == voteUnclear {
		m, err := units.ParseMoney(text, c.Currency)
		if err != nil {
			return "", parseProblem("price", err)
		}
		n, currency = m.TenThousandths(), m.Currency()
	}
	switch {
	case n == 0:
		return "", nil
	case n < 0:
		return "", &problem{code: "price-negative", why: fmt.Sprintf("%q is below zero: write the price, and a credit as a negative quantity", text)}
	case currency != "":
		return decimals(n) + " " + currency, nil
	}
	return decimals(n), nil
}
