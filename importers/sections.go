package importers

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fitfill/catalog"
)

// SectionHeading names what the section lines say where it fills a field of the
// rows below them (setting "sections").
const SectionHeading = "section lines"

// sectionsOf counts the section lines of a sheet and returns the first.
func (s *Sheet) sectionsOf() (first, count int) {
	for i := range s.records.n {
		if s.records.class(i) == ClassSection {
			if count++; count == 1 {
				first = i
			}
		}
	}
	return first, count
}

// sectionText is what a section line says.
func (s *Sheet) sectionText(i int) string {
	for _, c := range s.Cells(i, nil) {
		if c = trim(c); c != "" {
			return c
		}
	}
	return ""
}

// noteSections says that section lines were set aside and how to use them.
func (s *Sheet) noteSections(settings Settings) {
	if first, n := s.sectionsOf(); n > 0 && settings["sections"] == "" {
		s.Notes = append(s.Notes, FileNote{"sections", s.records.lineOf(first), fmt.Sprintf(
			"%q stands alone between the rows (such lines: %d) and is set aside; --set sections=type gives what it says to the rows below it", s.sectionText(first), n)})
	}
}

// mapSections maps the section lines to the field that a person named.
func (p *proposal) mapSections(m *Mapping) {
	name := p.settings["sections"]
	if name == "" {
		return
	}
	f, ok := p.kind.field(name)
	taken := slices.ContainsFunc(m.Columns, func(c Column) bool { return c.Field == name })
	switch _, n := p.sheet.sectionsOf(); {
	case !ok || f.kind != catalog.KindText:
		p.ask("setting", "--set sections=type", nil, "Section lines cannot fill %q: name a field of text of a %s sheet, such as type or description.", name, p.kind.kind)
	case taken:
		p.ask("setting", "--set sections=FIELD", nil, "Section lines cannot fill %s: a column of the sheet fills it.", name)
	case n > 0:
		m.Columns = append(m.Columns, Column{Heading: SectionHeading, Index: len(p.sheet.Header), Field: name})
	}
}

// useSections finds for every record the section that it stands in.
func (s *source) useSections(m Mapping) {
	if !slices.ContainsFunc(m.Columns, func(c Column) bool { return c.Index == len(s.Header) }) {
		return
	}
	s.section = make([]int32, s.records.n)
	last := int32(-1)
	for i := range s.records.n {
		if s.records.class(i) == ClassSection {
			last = int32(i)
		}
		s.section[i] = last
	}
}

// sectionAt is what the section says that record i stands in.
func (s *source) sectionAt(i int) string {
	if s.section[i] < 0 {
		return ""
	}
	return s.sectionText(int(s.section[i]))
}

// lineSpans reads the setting "rows": lines and stretches of lines, "12,15-18".
func lineSpans(text string) (spans [][2]int, ok bool) {
	for part := range strings.SplitSeq(text, ",") {
		a, b, two := strings.Cut(strings.TrimSpace(part), "-")
		from, err := strconv.Atoi(a)
		to := from
		if two && err == nil {
			to, err = strconv.Atoi(b)
		}
		if err != nil || from < 1 || to < from {
			return nil, false
		}
		spans = append(spans, [2]int{from, to})
	}
	return spans, true
}

// takeAsRows makes rows of lines below the heading that look like something
// else, where a person said so.
func (s *Sheet) takeAsRows(settings Settings) error {
	if settings["rows"] == "" {
		return nil
	}
	spans, _ := lineSpans(settings["rows"])
	for _, span := range spans {
		found := false
		for i := range s.records.n {
			line, class := s.records.lineOf(i), s.records.class(i)
			if line < span[0] || line > span[1] {
				continue
			}
			if class == ClassTitle || class == ClassHeading {
				return fmt.Errorf("%s: line %d is not below the heading: choose the heading with --set header=LINE", s.Name, line)
			}
			s.records.setClass(i, ClassData)
			found = true
		}
		if !found {
			return fmt.Errorf("%s: no row begins on line %d: the lines stand in fitfill inspect --ledger", s.Name, span[0])
		}
	}
	return nil
}
