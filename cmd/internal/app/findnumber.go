package app

import (
	"cmp"
	"context"
	"fmt"
	"slices"

	"fitfill/catalog"
	"fitfill/catalog/bleveindex"
	"fitfill/catalog/sqlite"
	"fitfill/catalog/words"
)

// mostFound bounds what is read for one answer; more are only counted.
const mostFound = 1000

// The shortest beginning and the shortest middle of a number worth looking for,
// and the shortest number that is looked for as misspelt.
const (
	shortestPrefix = 2
	shortestMiddle = 3
	shortestTypo   = 4
)

// numbers answers with the parts of the numbers that were said, and those that
// cross-references lead to.
func (f *finder) numbers(ctx context.Context) error {
	var found []placed
	seen := map[int64]bool{}
	add := func(id int64, score int, why string) {
		if !seen[id] {
			seen[id] = true
			found = append(found, placed{id: id, score: score, why: why})
		}
	}
	for _, key := range f.r.Numbers {
		for _, id := range f.known.parts[key] {
			add(id, scoreExact, "this number")
		}
	}
	exact := keysOf(seen)
	if err := f.crossed(ctx, exact, add); err != nil {
		return err
	}
	more, err := f.prefixed(ctx, f.r.Numbers)
	if err != nil {
		return err
	}
	for _, p := range more {
		add(p.id, p.score, p.why)
	}
	found, parts, err := f.ordered(ctx, found)
	if err != nil {
		return err
	}
	if found, parts, err = f.ofSupplierAndType(found, parts); err != nil {
		return err
	}
	if err := f.judgeNumbers(ctx, found, parts); err != nil {
		return err
	}
	if err := f.judgeHalves(ctx, found); err != nil {
		return err
	}
	f.countParts(parts, nil)
	f.countOutcomes(found)
	if err := f.held(ctx); err != nil {
		return err
	}
	return f.show(ctx, found, 0)
}

// crossed adds the parts that say they are a number, or replace it, and those
// that the number's own sheets say it is.
func (f *finder) crossed(ctx context.Context, exact []int64, add func(int64, int, string)) error {
	for _, id := range keysOf(f.known.refs) {
		for _, x := range f.known.refs[id] {
			if slices.Contains(f.r.Numbers, x.OtherKey) {
				add(id, scoreCross, fmt.Sprintf("%s %s%s (%s line %d)", relationSays(x.Relation), x.OtherNumber, ofSupplier(x.OtherSupplier), x.Origin.Sheet, x.Origin.Line))
			}
		}
	}
	refs, err := f.v.CrossReferences(ctx, exact)
	if err != nil {
		return err
	}
	for _, id := range exact {
		for _, x := range refs[id] {
			ids, err := f.v.PartIDs(ctx, x.OtherKey)
			if err != nil {
				return err
			}
			for _, other := range ids {
				add(other, scoreCross, fmt.Sprintf("%s (%s line %d)", relationBack(x.Relation), x.Origin.Sheet, x.Origin.Line))
			}
		}
	}
	return nil
}

func relationSays(r catalog.Relation) string {
	switch r {
	case catalog.Replaces:
		return "replaces"
	case catalog.ReplacedBy:
		return "was replaced by"
	}
	return "the same as"
}

func relationBack(r catalog.Relation) string {
	switch r {
	case catalog.Replaces:
		return "this number replaces it"
	case catalog.ReplacedBy:
		return "replaces this number"
	}
	return "this number is said to be the same"
}

func ofSupplier(name string) string {
	if name == "" {
		return ""
	}
	return " of " + name
}

// prefixed finds the numbers that begin with what was said. The store knows
// them too, and needs no index to be opened.
func (f *finder) prefixed(ctx context.Context, keys []string) (found []placed, err error) {
	if len(keys) != 1 || len(keys[0]) < shortestPrefix {
		return nil, nil
	}
	ids, err := f.v.PartIDsFrom(ctx, keys[0], mostFound)
	return begun(ids), err
}

const beginsWithIt = "number begins with it"

func begun(ids []int64) (found []placed) {
	for _, id := range ids {
		found = append(found, placed{id: id, score: scorePrefix, why: beginsWithIt})
	}
	return found
}

// mostBegun is up to how many numbers with one beginning the store tells sooner
// than an index that must be opened first.
const mostBegun = 200

// beginning finds the numbers that begin with what was said in the store, where
// that is the shorter way; known is false where the index must be asked.
func (f *finder) beginning(ctx context.Context, key string) (found []placed, known bool, err error) {
	open, err := f.late.isOpen(ctx)
	if err != nil || open || len(key) < shortestPrefix {
		return nil, false, err
	}
	ids, err := f.v.PartIDsFrom(ctx, key, mostBegun+1)
	if err != nil || len(ids) > mostBegun {
		return nil, false, err
	}
	return begun(ids), true, nil
}

// take runs a query and keeps what it finds in the order of suppliers.
func (f *finder) take(ctx context.Context, x *bleveindex.Index, q bleveindex.Query, score int, why string) (found []placed, total int, err error) {
	list, err := x.Search(ctx, q, mostFound)
	for _, of := range list {
		total += of.Total
		for _, id := range of.IDs {
			found = append(found, placed{id: id, score: score, why: why})
		}
	}
	return found, total, err
}

// halfNumber answers with the numbers that begin with what was said, else with
// those that have it in them, else it offers the nearest.
func (f *finder) halfNumber(ctx context.Context) error {
	key := f.r.Partial
	found, known, err := f.beginning(ctx, key)
	if err != nil {
		return err
	}
	total := len(found)
	for _, way := range []struct {
		q        bleveindex.Query
		shortest int
		score    int
		why      string
		known    bool
	}{
		{bleveindex.Query{Prefix: key}, shortestPrefix, scorePrefix, beginsWithIt, known},
		{bleveindex.Query{Part: key}, shortestMiddle, scoreContains, "number contains it", false},
	} {
		if len(key) < way.shortest || len(found) > 0 || way.known {
			continue
		}
		x, err := f.late.index(ctx)
		if err != nil {
			return err
		}
		if found, total, err = f.take(ctx, x, way.q, way.score, way.why); err != nil {
			return err
		}
	}
	if len(found) == 0 && !hasDigit(key) { // no number: a word with a dash
		f.r.As, f.a.ReadAs = words.AsWords, string(words.AsWords)
		return f.words(ctx)
	}
	if len(found) == 0 {
		return f.nearestNumbers(ctx, key)
	}
	all := len(found)
	found, parts, err := f.ordered(ctx, found)
	if err != nil {
		return err
	}
	if found, parts, err = f.ofSupplierAndType(found, parts); err != nil {
		return err
	}
	if len(found) < all || total < all {
		total = len(found) // narrowed: what is beyond the bound is not known
	}
	if err := f.judgeHalves(ctx, found); err != nil {
		return err
	}
	f.countParts(parts, nil)
	f.countOutcomes(found)
	return f.show(ctx, found, total)
}

// ofSupplierAndType keeps the parts of the supplier and the types that were
// said, where any are left.
func (f *finder) ofSupplierAndType(found []placed, parts []sqlite.PartHead) ([]placed, []sqlite.PartHead, error) {
	supplier, err := f.supplierOf()
	if err != nil {
		return nil, nil, err
	}
	keep := func(of func(sqlite.PartHead) bool, must bool) {
		kept := slices.DeleteFunc(slices.Clone(parts), func(p sqlite.PartHead) bool { return !of(p) })
		if len(kept) == 0 && !must {
			return
		}
		parts = kept
		found = slices.DeleteFunc(found, func(at placed) bool {
			return !slices.ContainsFunc(parts, func(p sqlite.PartHead) bool { return p.ID == at.id })
		})
	}
	if supplier != "" {
		keep(func(p sqlite.PartHead) bool { return p.Supplier == supplier }, f.q.Supplier != "")
	}
	if len(f.types) > 0 {
		keep(func(p sqlite.PartHead) bool { return slices.Contains(f.types, p.Type) }, f.q.Type != "")
	}
	slices.SortStableFunc(found, func(a, b placed) int { return cmp.Compare(b.score, a.score) })
	return found, parts, nil
}
