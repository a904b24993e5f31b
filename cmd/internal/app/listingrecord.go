package app

import (
	"context"
	"fmt"
	"slices"
	"sync"

	"fitfill/catalog"
	"fitfill/catalog/sqlite"
	"fitfill/compat"
	"fitfill/compat/returns"
)

// listingRecords returns how often each supplier supplied or listed the wrong
// thing, as findings by the supplier's name. They move no answer: they say what
// an answer that rests on that supplier's list alone is worth.
func (s *Shop) listingRecords(ctx context.Context, v *sqlite.View) (map[string]compat.Finding, error) {
	st := &supplierStudy{}
	settings, reasons, err := s.returnTables(st.q)
	if err != nil {
		return nil, err
	}
	if st.names, err = supplierNames(ctx, v); err != nil {
		return nil, err
	}
	books, ok, err := s.recordBooks(ctx, v, st, reasons)
	if err != nil || !ok {
		return nil, err // of nothing that came back, nothing is known
	}
	wrong := map[string][]compat.Evidence{}
	for _, r := range books.Returns {
		if r.Class == returns.SupplyError && r.Quantity.Thousandths() > 0 {
			wrong[r.Supplier] = append(wrong[r.Supplier], compat.From(st.back[r.Ref].Origin))
		}
	}
	out := map[string]compat.Finding{}
	for _, r := range returns.Records(books, settings.Confidence) {
		share := percent(r.Share)
		out[r.Supplier] = compat.Finding{
			Check: "listing-record", Outcome: compat.Yes, Grade: compat.Inferred, Origin: wrong[r.Supplier],
			Says: fmt.Sprintf("This rests on %s's list alone. By your own books it supplied or listed wrong %d of %s (%.1f in 100; %.1f to %.1f is possible).",
				r.Supplier, r.Wrong, Plural(r.Sold, "piece", "pieces"), share.Est, share.Low, share.High),
		}
	}
	return out, nil
}

// recordBooks returns what records of supply errors take from the books: how much
// was bought of each supplier, and what came back for such an error. ok is false
// where nothing was bought, or nothing came back at all.
func (s *Shop) recordBooks(ctx context.Context, v *sqlite.View, st *supplierStudy, reasons sorting) (b returns.Books, ok bool, err error) {
	var last catalog.Date
	st.back, last, ok, err = v.ReturnsFor(ctx, func(reason string) bool {
		class, _, _ := reasons.Class(reason)
		return class == returns.SupplyError // the only reasons of which returnClass makes one
	})
	if err != nil || !ok {
		return b, false, err
	}
	bought, err := v.BoughtUntil(ctx, last)
	if err != nil || len(bought) == 0 {
		return b, false, err
	}
	for _, of := range bought {
		name := canonical(st.names, of.Supplier)
		b.Sales = append(b.Sales, returns.Sale{Supplier: name, Day: of.First, Quantity: of.Until}, returns.Sale{Supplier: name, Day: of.Last})
	}
	b.AsOf, _ = returns.AsOf(b.Sales, []returns.Return{{Day: last}})
	for i, r := range st.back {
		b.Returns = append(b.Returns, returns.Return{
			Ref: i, Supplier: canonical(st.names, r.Supplier), Part: r.Number, Day: r.Date, Quantity: r.Quantity, Class: returnClass(reasons, r),
		})
	}
	return b, true, nil
}

// onOneList reports whether a part is said to fit by its own supplier's list
// alone: nobody else lists it or names it the same, and nothing was measured.
func onOneList(p PartFit) bool {
	listed := false
	for _, f := range p.Findings {
		switch {
		case f.NotChecked || f.Outcome != compat.Yes:
		case f.Grade == compat.Measured:
			return false
		case f.Check == "listed" || f.Check == "cross-reference":
			for _, o := range f.Origin {
				if o.Supplier != "" && o.Supplier != p.Supplier {
					return false
				}
			}
			listed = listed || f.Check == "listed"
		}
	}
	return listed && (p.Outcome == compat.Yes || p.Outcome == compat.Caution)
}

// keptRecords are the records of the books as they were last read. Everybody
// who asks holds the lock, because the first to cite a supplier's lines reads
// their texts.
type keptRecords struct {
	sync.Mutex
	state string
	read  map[string]compat.Finding
	texts map[string]bool // suppliers whose lines were read
	asked int
}

// stateOf returns the state of the books. Where nothing is kept that could still
// hold, it is a name that no other question gets: a process that answers one
// question need not ask what the next one would have to compare.
func (k *keptRecords) stateOf(ctx context.Context, v *sqlite.View) (string, error) {
	k.Lock()
	defer k.Unlock()
	if k.texts == nil {
		k.asked++
		return fmt.Sprint("as question ", k.asked, " found them"), nil
	}
	return v.BooksState(ctx)
}

// of returns the record of a supplier, with the texts of its lines or without.
// The books are read again only when their state is not the one of last time.
func (k *keptRecords) of(ctx context.Context, s *Shop, v *sqlite.View, state, supplier string, texts bool) (f compat.Finding, ok bool, err error) {
	k.Lock()
	defer k.Unlock()
	if k.texts == nil || k.state != state {
		read, err := s.listingRecords(ctx, v)
		if err != nil {
			return f, false, err
		}
		k.state, k.read, k.texts = state, read, map[string]bool{}
	}
	if f, ok = k.read[supplier]; ok && texts && !k.texts[supplier] {
		if err := lineTexts(ctx, v, f.Origin); err != nil {
			return f, false, err
		}
		k.texts[supplier] = true
	}
	f.Origin = slices.Clone(f.Origin)
	return f, ok, nil
}

// addListingRecords puts the supplier's record behind every answer that rests
// on its list alone.
func (s *Shop) addListingRecords(ctx context.Context, v *sqlite.View, answers []PartFit, texts bool) (err error) {
	state := ""
	for i := range answers {
		p := &answers[i]
		if !onOneList(*p) {
			continue
		}
		if state == "" {
			if state, err = s.records.stateOf(ctx, v); err != nil {
				return err
			}
		}
		f, ok, err := s.records.of(ctx, s, v, state, p.Supplier, texts)
		if err != nil {
			return err
		}
		if ok {
			p.Findings = append(p.Findings, f)
		}
	}
	return nil
}
