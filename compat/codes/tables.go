package codes

import (
	"fmt"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/units"
	"fitfill/compat"
)

// levelCheck is the check that always comes first where it is among them.
const levelCheck = "level"

type meaning struct {
	says, group string
	circuit     bool
	thermostat  string // likely, possible or unlikely
	row         catalog.RefRow
}

type check struct {
	id, do  string
	minutes float64
	cold    bool
	row     catalog.RefRow
}

type cause struct {
	check, says, part string
	share             float64
	row               catalog.RefRow
}

// Tables holds the reference tables of trouble codes, read and checked.
type Tables struct {
	meanings map[string]meaning
	checks   map[string]check
	causes   map[string][]cause // by code or group
	cautions map[string]catalog.RefRow
	margin   units.TempDelta // 13 CCR 1968.2 (e)(10): below the regulating temperature
	rule     compat.Evidence
}

// marginRow is the row of fit_limits that holds the warm-up monitor's margin.
const marginRow = "monitor_margin"

// NewTables reads the tables code_* of a reference, and the warm-up monitor's
// margin. Errors name the table, the line and what is wrong with it.
func NewTables(ref catalog.Tables) (*Tables, error) {
	t := &Tables{meanings: map[string]meaning{}, checks: map[string]check{}, causes: map[string][]cause{}, cautions: map[string]catalog.RefRow{}}
	for _, read := range []struct {
		table string
		row   func(catalog.RefRow) error
	}{
		{"code_meanings", t.readMeaning}, {"code_checks", t.readCheck}, {"code_causes", t.readCause}, {"code_cautions", t.readCaution}, {"fit_limits", t.readMargin},
	} {
		rows, err := ref.Table(read.table)
		if err != nil {
			return nil, err
		}
		for _, r := range rows {
			if err := read.row(r); err != nil {
				return nil, fmt.Errorf("reading the tables of trouble codes: %w", err)
			}
		}
	}
	if t.rule.Title == "" && t.rule.Sheet == "" {
		return nil, fmt.Errorf("table fit_limits has no row %s", marginRow)
	}
	return t, nil
}

func (t *Tables) readMeaning(r catalog.RefRow) error {
	m := meaning{r.Get("meaning"), r.Get("group"), r.Get("circuit") == "yes", r.Get("thermostat"), r}
	if m.says == "" || m.thermostat != "likely" && m.thermostat != "possible" && m.thermostat != "unlikely" {
		return fmt.Errorf("table %s, line %d: a meaning, and likely, possible or unlikely, are needed", r.Table, r.Line)
	}
	for _, c := range strings.Fields(r.Get("codes")) {
		if code, err := Parse(c); err != nil || t.meanings[code.Text].says != "" {
			return fmt.Errorf("table %s, line %d: %q is no code, or stands there twice", r.Table, r.Line, c)
		}
		t.meanings[c] = m
	}
	return nil
}

func (t *Tables) readCheck(r catalog.RefRow) error {
	minutes, err := r.Float("minutes")
	if err != nil {
		return err
	}
	t.checks[r.Get("check")] = check{r.Get("check"), r.Get("do"), minutes, r.Get("cold") == "yes", r}
	return nil
}

func (t *Tables) readCause(r catalog.RefRow) error {
	share, err := r.Float("share")
	if err != nil {
		return err
	}
	if _, known := t.checks[r.Get("check")]; !known || share <= 0 || share > 100 {
		return fmt.Errorf("table %s, line %d: a check of code_checks and a share up to 100 are needed", r.Table, r.Line)
	}
	t.causes[r.Get("group")] = append(t.causes[r.Get("group")], cause{r.Get("check"), r.Get("cause"), r.Get("part"), share, r})
	return nil
}

func (t *Tables) readCaution(r catalog.RefRow) error {
	t.cautions[r.Get("key")] = r
	return nil
}

func (t *Tables) readMargin(r catalog.RefRow) error {
	if r.Get("key") != marginRow {
		return nil
	}
	k, err := r.Float("value")
	t.margin, t.rule = units.Kelvins(k), compat.Cite(r)
	return err
}
