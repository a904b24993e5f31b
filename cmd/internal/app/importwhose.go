package app

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"iter"
	"maps"
	"slices"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/sqlite"
	"fitfill/importers"
)

func (s *Shop) kindOf(q ImportQuestion, sheet *importers.Sheet) (catalog.SheetKind, error) {
	if q.As == "" {
		kind, ok := importers.GuessKind(s.whole(), sheet.Header)
		if !ok {
			kind = catalog.SupplierSheet
		}
		if ok && kind != catalog.SupplierSheet && q.Supplier != "" {
			kind = catalog.SupplierSheet
		}
		return kind, nil
	}
	var names []string
	for _, k := range catalog.SheetKinds {
		if string(k) == q.As {
			return k, nil
		}
		names = append(names, string(k))
	}
	return "", &UsageError{Problem: fmt.Sprintf("there is no kind of sheet called %q", q.As), Hint: "the kinds are " + strings.Join(append(names, string(TableKind)), ", ")}
}

// nameSupplier finds out whose sheet it is. A new name that is nearly a known
// one is a question, since a misspelt name would split a supplier in two.
func (s *Shop) nameSupplier(q ImportQuestion, header []string, known []sqlite.SheetRecord, suppliers []sqlite.Supplier, a *ImportAnswer) error {
	if a.Kind != catalog.SupplierSheet {
		return nil
	}
	name := strings.TrimSpace(q.Supplier)
	if catalog.Fold(name) == "" {
		name = lastSupplierOf(q.Name, header, known)
		if name != "" {
			a.Notes = append(a.Notes, importers.FileNote{Code: "supplier", Text: fmt.Sprintf("taken as a sheet of %s, like %s before: it has the same name and columns", name, q.Name)})
		}
	}
	if catalog.Fold(name) == "" {
		return &UsageError{Problem: fmt.Sprintf("%s is a supplier's sheet: whose?", q.Name), Hint: fmt.Sprintf("fitfill import %q --supplier NAME (or --as engines, vehicles, purchases, returns, fills, fitted)", q.Name)}
	}
	if known, err := supplierName(name, suppliers); err == nil {
		a.Supplier = known
		return nil
	}
	a.Supplier, a.NewSupplier = name, true
	if slices.Contains(q.Accept, acceptSupplier) {
		return nil
	}
	for _, k := range suppliers {
		if nearlySame(k.Name, name) {
			a.Open = append(a.Open, OpenQuestion{
				Code:     askKnownSupplier,
				Question: fmt.Sprintf("Is %q the supplier that is on file as %q?", name, k.Name),
				Choices:  []string{k.Name, name},
				Command:  fmt.Sprintf("--supplier %q or --accept %s", k.Name, acceptSupplier),
			})
			return nil
		}
	}
	return nil
}

// lastSupplierOf returns whose the sheets in use are that have this file name and
// these columns, empty where there are none or several suppliers have one.
func lastSupplierOf(name string, header []string, known []sqlite.SheetRecord) string {
	whose := ""
	for _, k := range known {
		var m importers.Mapping
		if k.Kind != catalog.SupplierSheet || k.Name != name || json.Unmarshal([]byte(k.Mapping), &m) != nil {
			continue
		}
		if slices.ContainsFunc(m.Columns, func(c importers.Column) bool {
			return c.Heading != importers.SectionHeading && !c.FromText && !slices.Contains(header, c.Heading)
		}) {
			continue
		}
		if whose != "" && whose != k.Supplier {
			return ""
		}
		whose = k.Supplier
	}
	return whose
}

// nearlySame reports whether two names differ by a slip of the keys, or by a
// word that one of them has more. Names with different figures ("Depot 1",
// "Depot 2") are meant to differ.
func nearlySame(a, b string) bool {
	a, b = catalog.Fold(a), catalog.Fold(b)
	if figures(a) != figures(b) {
		return false
	}
	if len(a) > len(b) {
		a, b = b, a
	}
	return strings.HasPrefix(b, a+" ") || len(a) >= 5 && distance(a, b) <= 2
}

// savedMapping returns the mapping of the supplier's last sheet whose headings
// are most like these.
func savedMapping(known []sqlite.SheetRecord, a ImportAnswer, header []string) *importers.Mapping {
	in := map[string]bool{}
	for _, h := range header {
		in[h] = true
	}
	var best *importers.Mapping
	most := 0
	for _, k := range known {
		if k.Kind != a.Kind || k.Supplier != a.Supplier {
			continue
		}
		var m importers.Mapping
		if json.Unmarshal([]byte(k.Mapping), &m) != nil {
			continue // written by a version that mapped differently: propose anew
		}
		common := 0
		for _, c := range m.Columns {
			if in[c.Heading] {
				common++
			}
		}
		if common > 0 && common >= most {
			best, most = &m, common
		}
	}
	return best
}

func figures(text string) string {
	return strings.Map(func(r rune) rune {
		if r >= '0' && r <= '9' {
			return r
		}
		return -1
	}, text)
}

// AddSupplierName makes other another name of a known supplier.
func (s *Shop) AddSupplierName(ctx context.Context, name, other string) error {
	err := s.store.AddSupplierName(ctx, name, other)
	if errors.Is(err, sqlite.ErrTaken) {
		return &UsageError{Problem: err.Error(), Hint: "fitfill sheets list shows the suppliers"}
	}
	if errors.Is(err, sqlite.ErrNotFound) {
		return &UsageError{Problem: fmt.Sprintf("no supplier is called %q", name), Hint: "the first name must be one that sheets were imported under: fitfill sheets list"}
	}
	return err
}

// knownNumbers returns whether a part number is on file as the supplier's, and
// those numbers as they are written.
func (s *Shop) knownNumbers(ctx context.Context, a ImportAnswer) (func(string) bool, iter.Seq[string], error) {
	if a.Kind != catalog.SupplierSheet || a.NewSupplier {
		return nil, nil, nil
	}
	var numbers map[string]string
	err := s.store.View(ctx, func(v *sqlite.View) (err error) {
		numbers, err = v.NumbersOf(ctx, a.Supplier)
		return err
	})
	known := func(key string) bool { _, ok := numbers[key]; return ok }
	return known, maps.Values(numbers), err
}

func hashOf(raw []byte) string {
	sum := sha256.Sum256(raw)
	return hex.EncodeToString(sum[:])
}

// unknownSuppliers asks about suppliers that purchases or returns name and that
// are not on file: a misspelt name would split a supplier in two.
func (s *Shop) unknownSuppliers(ctx context.Context, named map[string]int, accepted []string) ([]OpenQuestion, error) {
	var known map[string]string
	err := s.store.View(ctx, func(v *sqlite.View) (err error) {
		known, err = supplierNames(ctx, v)
		return err
	})
	if err != nil || len(known) == 0 {
		return nil, err
	}
	onFile := slices.Sorted(maps.Values(known))
	var open []OpenQuestion
	for _, name := range slices.Sorted(maps.Keys(named)) {
		if _, ok := known[catalog.Fold(name)]; ok {
			continue
		}
		gate := fmt.Sprintf("%s=%s", acceptSupplier, name)
		if slices.Contains(accepted, gate) {
			continue
		}
		q := OpenQuestion{
			Code: askNewSupplier, Question: fmt.Sprintf("The supplier %q (first on line %d) is not on file. Is it new?", name, named[name]),
			Choices: []string{"new"}, Command: fmt.Sprintf("--accept %s=%q", acceptSupplier, name), Gate: gate,
		}
		near := Nearest(name, onFile)
		if i := slices.IndexFunc(onFile, func(known string) bool { return nearlySame(known, name) }); near == "" && i >= 0 {
			near = onFile[i]
		}
		if near != "" {
			q.Question = fmt.Sprintf("The supplier %q (first on line %d) is not on file. Is it %q under another name?", name, named[name], near)
			q.Choices, q.Gate = []string{near, "new"}, ""
			q.Command = fmt.Sprintf("if it is, first: fitfill suppliers alias %q %q; if it is new: --accept %s=%q", near, name, acceptSupplier, name)
		}
		open = append(open, q)
	}
	if len(open) == 1 && slices.Contains(accepted, acceptSupplier) {
		return nil, nil
	}
	return open, nil
}
