package app

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"unicode"

	"fitfill/catalog"
	"fitfill/catalog/sqlite"
	"fitfill/importers"
)

// withoutForgotten looks for vehicles in a sheet that were forgotten. Where it
// names any, it returns the question with the sheet as it would be kept had it
// been there before, and a note that says so: events that are on file already
// are then the same events, and the mark does not come back.
func (s *Shop) withoutForgotten(ctx context.Context, q ImportQuestion, sheet *importers.Sheet, m importers.Mapping) (again *ImportQuestion, note importers.FileNote, err error) {
	var forgotten sqlite.ForgottenMarks
	err = s.store.View(ctx, func(v *sqlite.View) error {
		forgotten, err = v.Forgotten(ctx)
		return err
	})
	if err != nil || forgotten.None() {
		return nil, note, err
	}
	named := forgottenIn(sheet, m, forgotten)
	if len(named) == 0 {
		return nil, note, nil
	}
	var edits []func([]string) bool
	var names []string
	for _, f := range named {
		edits, names = append(edits, f.edit(m)), append(names, f.as)
	}
	text, lines, err := importers.Redact(sheet, func(cells []string) bool {
		changed := false
		for _, edit := range edits {
			changed = edit(cells) || changed
		}
		return changed
	})
	if err != nil {
		return nil, note, &UsageError{
			Problem: fmt.Sprintf("%s names a vehicle that was forgotten and cannot be kept without it: %v", q.Name, err),
			Hint:    "take the vehicle out of those rows in the sheet itself",
		}
	}
	q.Raw, q.File = text, nil
	q.Settings = merged(map[string]string(m.Settings), q.Settings)
	slices.Sort(names)
	note = importers.FileNote{Code: "forgotten-vehicle", Line: lines[0], Text: fmt.Sprintf("%s of a vehicle that was forgotten: kept without its mark, as %s",
		Plural(len(lines), "row", "rows"), strings.Join(names, ", "))}
	return &q, note, nil
}

// forgottenIn finds the forgotten vehicles that a sheet names, by the name that
// the history of each is kept under.
func forgottenIn(sheet *importers.Sheet, m importers.Mapping, forgotten sqlite.ForgottenMarks) map[string]*forgetting {
	fields := map[int]string{}
	for _, c := range m.Columns {
		fields[c.Index] = c.Field
	}
	named := map[string]*forgetting{}
	look := func(key string) {
		name, ok := forgotten.Name(key)
		if !ok {
			return
		}
		if named[name] == nil {
			named[name] = &forgetting{as: name, keys: map[string]bool{}}
		}
		named[name].keys[key] = true
	}
	seen := map[string]bool{}
	var cells []string
	for i := range sheet.Len() {
		cells = sheet.Cells(i, cells)
		for c, cell := range cells {
			field := fields[c]
			if cell == "" || neverNames(field) || seen[field+"\x00"+cell] {
				continue
			}
			seen[field+"\x00"+cell] = true
			if field == "vehicle" || field == "vin" {
				look(catalog.Key(cell))
				continue
			}
			for _, key := range keysIn(cell) {
				look(key)
			}
		}
	}
	for _, f := range named {
		f.lookInTexts()
	}
	return named
}

// wordsOfMark is how many words of a text a mark can be written in.
const wordsOfMark = 5

// keysIn returns what inside a text could be a mark that is looked for in texts:
// up to so many words in a row.
func keysIn(text string) (keys []string) {
	parts := strings.FieldsFunc(text, func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
	for from := range parts {
		key := ""
		for _, p := range parts[from:min(from+wordsOfMark, len(parts))] {
			if key += catalog.Key(p); longEnough(key) {
				keys = append(keys, key)
			}
		}
	}
	return keys
}

// remember lets sheets name a vehicle again that the garage itself writes down.
func (s *Shop) remember(ctx context.Context, car catalog.Vehicle) error {
	var keys []string
	for _, name := range []string{car.Mark, car.VIN} {
		if key := catalog.Key(name); key != "" {
			keys = append(keys, key)
		}
	}
	err := s.store.Remember(ctx, keys...)
	if errors.Is(err, sqlite.ErrBusy) {
		return fmt.Errorf("the vehicle is written down, but sheets do not name it yet: %w", err)
	}
	return err
}
