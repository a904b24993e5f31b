package sqlite

import "fitfill/catalog"

// docBuilder puts together what the rows of one part say.
type docBuilder struct {
	*docReader
	doc   catalog.SearchDoc
	clamp [2]int64 // the smallest and the largest outside diameter, once they were read
	// A clamp may be listed for every engine there is, so what a document holds is
	// looked up and not searched for.
	makes, engines map[int64]bool
}

func (b *docBuilder) fact(f *factRows) error {
	name, err := b.text(f.field)
	if err != nil {
		return err
	}
	d := &b.doc
	d.Sizes = appendNew(d.Sizes, catalog.SizeTerm(sizeFields[name], f.value))
	if name == "clamp_min" || name == "clamp_max" {
		if name == "clamp_min" {
			b.clamp[0] = f.value
		} else {
			b.clamp[1] = f.value
		}
		if b.clamp[0] > 0 && b.clamp[1] > 0 {
			d.Sizes = append(d.Sizes, catalog.ClampTerms(b.clamp[0], b.clamp[1])...)
		}
	}
	if !f.word.Valid || !searchFields[name] {
		return nil
	}
	text, err := b.text(f.word.Int64)
	if err != nil {
		return err
	}
	switch {
	case name == "type" && d.Type == "":
		d.Type = text
	case name == "description" && d.Description == "":
		d.Description = text
	case name != "type" && name != "description":
		d.Words = appendNew(d.Words, text)
	}
	return nil
}

func (b *docBuilder) use(app int64) error {
	a := b.apps[app]
	for _, w := range []struct {
		seen map[int64]bool
		list *[]string
		word int64
	}{{b.makes, &b.doc.Makes, a[0]}, {b.makes, &b.doc.Makes, a[1]}, {b.engines, &b.doc.Engines, a[2]}} {
		text, err := b.text(w.word)
		if err != nil {
			return err
		}
		if text == "" || w.seen[w.word] {
			continue
		}
		w.seen[w.word] = true
		*w.list = append(*w.list, text)
	}
	return nil
}
