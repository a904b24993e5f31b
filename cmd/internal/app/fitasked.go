package app

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"fitfill/catalog"
	"fitfill/catalog/units"
	"fitfill/compat"
	"fitfill/compat/fit"
)

// toldSheet is where a fact stands that somebody answered or measured just now.
const toldSheet = "as told"

// asked is a fit question with its answers read.
type asked struct {
	FitQuestion
	year         int
	half         fit.Half
	built        fit.Month
	displacement catalog.Stated[units.Volume]
	measured     fit.Measured
	places       []string // lower, where a lower hose was asked for
}

// read reads the answers that came as text. Errors are UsageErrors that name
// the flag.
func (s *Shop) readAsked(q FitQuestion) (a asked, err error) {
	a.FitQuestion = q
	if a.year, a.half, err = readYear(q.Year); err != nil {
		return a, err
	}
	if len(catalog.Key(q.VIN8)) > 1 {
		return a, &UsageError{Problem: fmt.Sprintf("--vin8 %q is more than one character", q.VIN8), Hint: "it is the one letter or digit at position 8 of the VIN"}
	}
	if q.Built != "" {
		at, err := catalog.ParseDate(q.Built + "-01")
		if err != nil {
			return a, &UsageError{Problem: fmt.Sprintf("--built %q is no month", q.Built), Hint: "write year and month of build, such as --built 2004-03"}
		}
		year, _ := strconv.Atoi(at.String()[:4])
		month, _ := strconv.Atoi(at.String()[5:7]) // ParseDate let only a month through
		a.built = fit.Month(12*year + month - 1)
	}
	if q.Displacement != "" {
		v, err := units.ParseDisplacement(q.Displacement, "")
		if err != nil {
			return a, &UsageError{Problem: "--displacement: " + err.Error(), Hint: `write it such as --displacement "3.8 L"`}
		}
		a.displacement = catalog.Say(v, q.Displacement, toldNow(q.Displacement))
	}
	if err := q.readBolt(); err != nil {
		return a, err
	}
	for _, m := range q.Measured {
		if err := s.fit().Measure(&a.measured, m, s.lengthUnit(), toldNow(m)); err != nil {
			return a, &UsageError{Problem: "--measured: " + err.Error(), Hint: `write one size each, such as --measured "flange 53.9 mm"`}
		}
	}
	return a, nil
}

// lengthUnit is the unit of a length that names none.
func (s *Shop) lengthUnit() units.Unit {
	return cmp.Or(s.Settings.Units.Length, units.UnitMillimetre)
}

func toldNow(text string) catalog.Origin { return catalog.Origin{Sheet: toldSheet, Text: text} }

// readYear reads "2004", and "2004.0" and "2004.5" for the halves of a year
// that lists split.
func readYear(text string) (year int, half fit.Half, err error) {
	if text == "" {
		return 0, 0, nil
	}
	whole, part, split := strings.Cut(text, ".")
	year, err = strconv.Atoi(whole)
	switch {
	case err != nil || year < 1886 || year > 2100 || split && part != "0" && part != "5":
		return 0, 0, &UsageError{Problem: fmt.Sprintf("--year %s is no model year", text), Hint: "write all four digits, such as --year 2004 (2004.5 for its second half)"}
	case part == "0":
		half = fit.FirstHalf
	case part == "5":
		half = fit.SecondHalf
	}
	return year, half, nil
}

// question puts the answers into the question that the judgement takes. What
// was measured is of the part in hand where a part is asked for, else of the
// old one.
func (s *Shop) question(a asked, family catalog.EngineFamily, partType string) fit.Question {
	a.measured.Into(&family)
	q := fit.Question{
		Engine: family, Type: partType, Year: a.year, Half: a.half, Built: a.built, VIN8: a.VIN8,
		Displacement: a.displacement, With: a.With, Without: a.Without, Show: s.Settings.Units,
	}
	q.Bath, q.Altitude = a.measured.Bath, s.Settings.Altitude
	if a.Part == "" {
		q.Old, q.Bath = a.measured.Part, fit.Bath{}
	}
	return q
}

// sameEngine refuses a displacement that is not the engine's.
func (a asked) sameEngine(family catalog.EngineFamily, all []catalog.EngineFamily) error {
	mine := family.Displacement
	litres := func(v units.Volume) string { return fmt.Sprintf("%.1f L", v.Litres()) }
	if !mine.Known || !a.displacement.Known || litres(mine.Value) == litres(a.displacement.Value) {
		return nil
	}
	hint := "ask for the engine of that size"
	for _, f := range all {
		if f.Displacement.Known && litres(f.Displacement.Value) == litres(a.displacement.Value) && sharesName(f.Make.Value, family.Make.Value) {
			hint = "of that size and make is: fitfill fit " + f.Family
			break
		}
	}
	return &UsageError{Problem: fmt.Sprintf("%s is a %s engine, not %s", family.Family, litres(mine.Value), litres(a.displacement.Value)), Hint: hint}
}

func sharesName(a, b string) bool { return a != "" && catalog.Fold(a) == catalog.Fold(b) }

// shown reports whether the answer shows a part.
func (a asked) shown(p *catalog.Part) bool {
	return (a.Supplier == "" || p.Supplier == a.Supplier) && (a.Part == "" || p.Key == catalog.Key(a.Part))
}

// speaksFor reports whether anything speaks for a part that no list names.
func speaksFor(d fit.Verdict) bool {
	return d.Outcome == compat.Yes || d.Outcome == compat.Caution
}

// nextQuestion is the question to ask first, for every output.
func nextQuestion(n fit.Next) *NextQuestion {
	return &NextQuestion{Ask: n.Text, AnswerWith: n.Flag, Doubtful: n.Doubtful, Left: n.Left}
}

// notOfLetter says that the 8th character of a VIN is not one of the engine's by
// the garage's own sheet; "" where it is, or nobody can say.
func notOfLetter(family *catalog.EngineFamily, letter string) string {
	own := strings.FieldsFunc(strings.ToUpper(family.VIN8.Value), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
	if letter = catalog.Key(letter); letter == "" || len(own) == 0 || slices.Contains(own, letter) {
		return ""
	}
	return fmt.Sprintf("%s has %s at place 8 of its VIN by your own sheet: %s is another engine, so look again which it is", family.Family, strings.Join(own, " or "), letter)
}

// doubtEngine takes the yes from a part where the VIN speaks of another engine.
func doubtEngine(family *catalog.EngineFamily, says string, outcome *compat.Outcome, first *string, findings *[]compat.Finding) {
	if says == "" || *outcome != compat.Yes {
		return
	}
	*outcome, *first = compat.Caution, "should fit: the VIN's 8th character is another engine's"
	doubt := compat.Finding{Check: "engine", Outcome: compat.Caution, Grade: compat.Listed, Says: says + ".", Origin: []compat.Evidence{compat.From(family.VIN8.Origin)}}
	*findings = append([]compat.Finding{doubt}, *findings...)
}

// notOfYear says that an engine was not made in a model year, nor in one next to
// it, by the garage's own sheet; "" where it was, or nobody can say.
func notOfYear(family *catalog.EngineFamily, year int) string {
	if year == 0 || !family.Years.Known || len(family.Years.Value.Ranges) == 0 {
		return ""
	}
	for y := year - 1; y <= year+1; y++ {
		if _, some := family.Years.Value.Covers(y); some {
			return ""
		}
	}
	return fmt.Sprintf("%s is of %s by your own sheet: %d is not one of its years, so look again which engine it is", family.Family, family.Years.Text, year)
}
