package importers

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// The settings of this file are what a person may fix about the meaning of
// values, beside those that say how a file is read.
//
//	percent     hundred or fraction: 0.5 is 0.5 % or 50 %
//	arrows      timeline or compare: ">92" is up to 1992 or from 1992
//	pairs       month or years: "03/04" is March 2004 or 2003 to 2004
//	fractions   measure or hold: 1,5 pieces are goods sold by measure, or a mistake
//	minus       back, undo or hold: −1 pieces in a sheet of returns went back, take
//	            an earlier return back, or are a mistake
//	engines     list or one: "KV20/KV22" is two engines, or the name of one
//	point-zero  strip or keep: part number 4711.0 is 4711 or 4711.0
//	pad         a length: part numbers of digits are filled up with zeros
var meaningSettings = map[string][]string{
	"percent": {Hundred, Fraction}, "arrows": {"timeline", "compare"}, "pairs": {"month", "years"},
	"point-zero": {"strip", "keep"}, "pad": nil, "fractions": {"measure", "hold"}, "minus": {MinusBack, MinusUndo, "hold"}, "engines": {EnginesList, "one"},
}

// The readings of a column of shares.
const (
	Hundred  = "hundred"
	Fraction = "fraction"
)

// The readings of pieces below zero in a sheet of returns.
const (
	MinusBack = "back"
	MinusUndo = "undo"
)

func init() {
	for name := range meaningSettings {
		settingNames = append(settingNames, name)
	}
	slices.Sort(settingNames)
}

// signature digests the headings of a sheet in their order.
func (v *vocabulary) signature(s *Sheet) string {
	h := sha256.New()
	for i := range s.Header {
		if s.Header[i] == "" {
			continue // an empty column more changes nothing
		}
		h.Write([]byte(v.headingKey(s.columnName(i))))
		h.Write([]byte{0})
	}
	return hex.EncodeToString(h.Sum(nil)[:8])
}

// reading is the part of a mapping that decides how a sheet is read.
func (m Mapping) reading() string {
	m.Version, m.Signature, m.Measured, m.Empty = 0, "", Measured{}, nil
	m.Columns = slices.Clone(m.Columns)
	for i := range m.Columns {
		m.Columns[i].Index = 0
	}
	slices.SortFunc(m.Columns, func(a, b Column) int { return strings.Compare(a.Field, b.Field) })
	m.Ignored = slices.Sorted(slices.Values(m.Ignored))
	text, err := json.Marshal(m)
	if err != nil {
		return err.Error()
	}
	return string(text)
}

// version numbers the mapping: an unchanged one keeps the number of the saved
// one, and keeps its measures where it is the same file.
func (p *proposal) version(m *Mapping) {
	saved := p.opt.Saved
	switch {
	case saved == nil || saved.Kind != m.Kind:
		m.Version = 1
	case m.Signature == saved.Signature && m.SameReading(*saved):
		m.Version = saved.Version
	default:
		m.Version = saved.Version + 1
	}
	if saved != nil && saved.Measured.SHA256 == p.sheet.SHA256 && m.Version == saved.Version {
		m.Measured = saved.Measured
	}
}

// checkMeaning is check with the values of the settings of this file.
func (s Settings) checkMeaning() error {
	if err := s.check(); err != nil {
		return err
	}
	for full, value := range s {
		name, _, _ := strings.Cut(full, ":")
		choices, mine := meaningSettings[name]
		switch {
		case !mine:
		case name == "pad":
			if n, err := strconv.Atoi(value); err != nil || n < 1 || n > maxWord {
				return fmt.Errorf("setting pad cannot be %q: it takes the length of the supplier's part numbers", value)
			}
		case !slices.Contains(choices, value):
			return fmt.Errorf("setting %s cannot be %q: it takes %s", name, value, strings.Join(choices, " or "))
		}
	}
	return nil
}
