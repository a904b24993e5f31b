package app

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"regexp"
	"slices"
	"strings"
	"unicode"

	"fitfill/catalog"
	"fitfill/catalog/sqlite"
	"fitfill/importers"
)

// Forgotten is what forgetting a vehicle did.
type Forgotten struct {
	As       string   `json:"as"`       // the name that its history is kept under
	Sheets   []string `json:"sheets"`   // kept sheets that were written over, with the rows
	Remarks  bool     `json:"remarks"`  // whether remarks were searched for the mark too
	Complete bool     `json:"complete"` // nothing is left on free pages of the catalogue
	Aside    []string `json:"aside"`    // folders with catalogues that restoring replaced: they may name it still
}

// ForgetVehicle drops the mark and the VIN of a vehicle wherever they are kept:
// in its own records, in remarks, in the log and in the kept copies of the
// sheets. Its history stays under a name that says nothing, so that fills and
// returns still count.
func (s *Shop) ForgetVehicle(ctx context.Context, text string) (a Forgotten, err error) {
	lock, err := s.store.LockImports()
	if err != nil {
		return a, err
	}
	defer func() { err = errors.Join(err, lock.Unlock()) }()
	var f *forgetting
	err = s.store.View(ctx, func(v *sqlite.View) error {
		if f, err = s.forgetting(ctx, v, text); err != nil {
			return err
		}
		return s.noneWaiting(ctx, v, f)
	})
	if err != nil {
		return a, err
	}
	if a, err = s.forget(ctx, lock, f); err != nil {
		return a, err
	}
	return a, s.otherCopies(&a)
}

// forget drops marks and VINs wherever they are kept.
func (s *Shop) forget(ctx context.Context, lock *sqlite.ImportLock, f *forgetting) (a Forgotten, err error) {
	a.Sheets = []string{}
	var kept []sqlite.SheetRecord
	err = s.store.View(ctx, func(v *sqlite.View) error {
		kept, err = v.OwnSheets(ctx)
		return err
	})
	if err != nil {
		return a, err
	}
	a.As, a.Remarks = f.as, f.inText != nil
	order := sqlite.Forget{As: f.as, Keys: slices.Sorted(maps.Keys(f.keys)), Is: f.is, Clean: f.clean}
	columns := map[int64]func([]string) bool{}
	for _, r := range kept {
		red, err := s.redact(ctx, f, r, columns)
		if err != nil {
			return a, err
		}
		if red.Rows > 0 {
			order.Sheets = append(order.Sheets, red)
			a.Sheets = append(a.Sheets, fmt.Sprintf("%s (%s)", r.Name, Plural(red.Rows, "row", "rows")))
		}
	}
	order.Cells = func(sheetID int64, cells []string) []string {
		if edit := columns[sheetID]; edit != nil {
			edit(cells)
		}
		return cells
	}
	a.Complete, err = s.store.Forget(ctx, lock, order, s.timestamp())
	return a, err
}

// forgetting knows the marks and VINs that have to go.
type forgetting struct {
	as     string
	keys   map[string]bool
	inText *regexp.Regexp // nil where the mark is too short to be found in a text
}

// enoughKey is how many letters and digits a mark needs before it is looked for
// inside texts: a shorter one is in many a text that means something else.
const enoughKey = 3

func (s *Shop) forgetting(ctx context.Context, v *sqlite.View, text string) (*forgetting, error) {
	car, err := vehicleNamed(ctx, v, text)
	if err != nil {
		return nil, err
	}
	f := &forgetting{keys: map[string]bool{}}
	for _, name := range []string{car.Mark, car.VIN} {
		if key := catalog.Key(name); key != "" {
			f.keys[key] = true
		}
	}
	f.lookInTexts()
	before, err := v.Forgotten(ctx)
	if err != nil {
		return nil, err
	}
	f.as, err = freeName(ctx, v, before.Taken)
	return f, err
}

// freeName returns a name that says nothing and that no vehicle has; taken knows
// those of forgotten ones.
func freeName(ctx context.Context, v *sqlite.View, taken func(string) bool) (string, error) {
	for n := 1; ; n++ {
		name := fmt.Sprintf("forgotten %d", n)
		if taken(name) {
			continue
		}
		if _, err := vehicleNamed(ctx, v, name); err == nil {
			continue
		} else if _, unknown := IsUnknown(err); !unknown {
			return "", err
		}
		return name, nil
	}
}

// lookInTexts says how the marks are found inside texts.
func (f *forgetting) lookInTexts() {
	var forms []string
	for key := range f.keys {
		if !longEnough(key) {
			continue
		}
		var b strings.Builder
		for i, r := range key {
			if i > 0 {
				b.WriteString(`[^\p{L}\p{N}\r\n]{0,2}`)
			}
			b.WriteString(regexp.QuoteMeta(string(r)))
		}
		forms = append(forms, b.String())
	}
	if len(forms) > 0 {
		slices.Sort(forms)
		f.inText = regexp.MustCompile(`(?i)(^|[^\p{L}\p{N}])(?:` + strings.Join(forms, "|") + `)($|[^\p{L}\p{N}])`)
	}
}

// longEnough reports whether a mark can be told from other words of a text.
func longEnough(key string) bool {
	return len([]rune(key)) >= enoughKey && strings.ContainsFunc(key, unicode.IsLetter) && strings.ContainsFunc(key, unicode.IsDigit)
}

func (f *forgetting) is(cell string) bool { return f.keys[catalog.Key(cell)] }

// clean takes the marks out of a text. Two of them may share the sign between
// them, so it goes over the text until nothing changes.
func (f *forgetting) clean(text string) string {
	if f.inText == nil {
		return text
	}
	for {
		next := f.inText.ReplaceAllString(text, "${1}"+f.as+"${2}")
		if next == text {
			return text
		}
		text = next
	}
}

// edit returns what takes a vehicle out of the cells of a row of a sheet: its
// mark and VIN, the remarks that name it, and, in rows about it, what stands in
// columns that nothing reads, such as the customer's name.
func (f *forgetting) edit(m importers.Mapping) func([]string) bool {
	fields := map[int]string{}
	for _, c := range m.Columns {
		fields[c.Index] = c.Field
	}
	return func(cells []string) bool {
		was := slices.Clone(cells)
		about := false
		for i, cell := range cells {
			switch fields[i] {
			case "vehicle":
				if f.is(cell) {
					cells[i], about = f.as, true
				}
			case "vin":
				if f.is(cell) {
					cells[i], about = "", true
				}
			default:
				if !neverNames(fields[i]) {
					cells[i] = f.clean(cell)
				}
			}
		}
		if about {
			for i, cell := range cells {
				if fields[i] == "" {
					cells[i] = lineEndsOf(cell)
				}
			}
		}
		return !slices.Equal(was, cells)
	}
}

// neverNames reports whether a field holds nothing that could name a vehicle.
func neverNames(field string) bool {
	switch field {
	case "number", "supplier", "engine", "date", "quantity":
		return true
	}
	return false
}

// lineEndsOf keeps the line ends of a cell, so that the rows after it stay on
// their lines.
func lineEndsOf(cell string) string {
	return strings.Map(func(r rune) rune {
		if r == '\n' || r == '\r' {
			return r
		}
		return -1
	}, cell)
}

// redact takes the vehicle out of a kept sheet. What it does to a row's cells is
// left in columns.
func (s *Shop) redact(ctx context.Context, f *forgetting, r sqlite.SheetRecord, columns map[int64]func([]string) bool) (sqlite.Redacted, error) {
	red := sqlite.Redacted{SheetID: r.ID, Held: map[int]sqlite.HeldText{}}
	sheet, err := s.reopen(ctx, r)
	if err != nil {
		return red, err
	}
	defer sheet.Close()
	mapping := sheet.mapping
	edit := f.edit(mapping)
	columns[r.ID] = edit
	text, lines, err := importers.Redact(sheet.Sheet, edit)
	if err != nil {
		return red, fmt.Errorf("the vehicle is not forgotten, nothing was changed: without it %w", err)
	}
	if len(lines) == 0 {
		return red, nil
	}
	red.Text, red.Rows, red.SHA256 = text, len(lines), hashOf(text)
	after, err := importers.Open(s.whole(), r.Name, text, mapping.Settings)
	if err != nil {
		return red, fmt.Errorf("the vehicle is not forgotten, nothing was changed: sheet %s without it: %w", r.Name, err)
	}
	return red, s.store.View(ctx, func(v *sqlite.View) error {
		held, err := v.HeldOf(ctx, r.ID)
		for _, h := range held {
			if !slices.Contains(lines, h.Line) {
				continue
			}
			cell := []string{h.Text}
			if h.Column == "" {
				cell[0] = after.TextOn(h.Line)
			} else {
				column := slices.IndexFunc(mapping.Columns, func(c importers.Column) bool { return c.Heading == h.Column })
				if column >= 0 && mapping.Columns[column].Field == "vehicle" && f.is(h.Text) {
					cell[0] = f.as
				}
				cell[0] = f.clean(cell[0])
			}
			red.Held[h.Line] = sqlite.HeldText{Text: cell[0], Raw: after.TextOn(h.Line)}
		}
		return err
	})
}
