package importers

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"

	"fitfill/catalog"
)

// Open reads a whole sheet, out of a gzip or zip archive too. It refuses what
// is no text sheet with a sentence that says what the file looks like and what
// to do. Encoding, separator, quotes and heading are found from the bytes, with
// evidence (Proof); what is not certain is taken for now and asked (Questions).
// The settings overrule; unknown settings are an error. Every record has its
// class, and every data record its fault, when Open returns. A zip archive with
// several sheets gives a *SheetChoice. Nobody may change raw afterwards: cells are
// views of it.
func Open(ref catalog.Reference, name string, raw []byte, settings Settings) (*Sheet, error) {
	voc, err := vocabularyOf(ref)
	if err != nil {
		return nil, err
	}
	if err := settings.check(); err != nil {
		return nil, err
	}
	return openSheet(voc, name, raw, settings)
}

// OpenFile is Open for a file that need not lie in memory: of a large one only what
// is being looked at does, and a large text that has to be unpacked or decoded goes
// into scratch files. Cells and contents of its records are views of pages that were
// read; whoever keeps one for long clones it. The sheet must be closed; the file is
// the caller's, and must stay open and as it is until then.
func OpenFile(ref catalog.Reference, name string, f File, scratch Scratch, settings Settings) (*Sheet, error) {
	voc, err := vocabularyOf(ref)
	if err != nil {
		return nil, err
	}
	if err := settings.check(); err != nil {
		return nil, err
	}
	return openFile(voc, name, f, usualStorage(scratch), settings)
}

func openFile(voc *vocabulary, name string, f File, st storage, settings Settings) (*Sheet, error) {
	if err := tooLarge(name, f.Size(), settings.limits()); err != nil {
		return nil, err // before any of it is read
	}
	raw, err := textIn(f, st)
	if err != nil {
		return nil, err
	}
	return openText(voc, name, raw, st, settings)
}

func openSheet(voc *vocabulary, name string, raw []byte, settings Settings) (*Sheet, error) {
	return openText(voc, name, textOf(raw), storage{}, settings)
}

func openText(voc *vocabulary, name string, raw *text, st storage, settings Settings) (*Sheet, error) {
	s := &Sheet{Name: name, sizes: settings.limits(), answers: Settings{}, storage: st}
	err := s.open(voc, name, raw, settings)
	if err == nil {
		err = errors.Join(raw.err(), s.raw.err(), s.text.err())
	}
	if err != nil {
		return nil, errors.Join(err, s.Close())
	}
	return s, nil
}

// Close takes away what scratch files the sheet needed. The sheet must not be used
// afterwards.
func (s *Sheet) Close() error {
	var errs []error
	for _, c := range s.scratch {
		errs = append(errs, c.Close())
	}
	s.scratch = nil
	return errors.Join(errs...)
}

// newText begins a text that goes when the sheet is closed.
func (s *Sheet) newText() *textWriter {
	w := newTextWriter(s.storage)
	s.scratch = append(s.scratch, w)
	return w
}

func (s *Sheet) open(voc *vocabulary, name string, raw *text, settings Settings) (err error) {
	if s.raw, s.Packed, err = s.unpacked(voc, name, raw, settings); err != nil {
		return err
	}
	if packed, besides, two := strings.Cut(s.Packed, besidesSheet); two {
		s.Packed = packed
		s.note("archive", 0, "the archive holds besides, not read: "+besides)
	}
	if err := refuseOther(name, s.raw.head(headBytes)); err != nil {
		return err
	}
	if err := s.readText(settings); err != nil {
		return err
	}
	if err := refuseText(name, s.text); err != nil {
		return err
	}
	width, hint := s.chooseDialect(voc, settings)
	s.split(width)
	if int64(s.records.n) > s.sizes.rows {
		return fmt.Errorf("%s has %d lines, more than %d: split the sheet and import its parts, or raise --set limit-rows", name, s.records.n, s.sizes.rows)
	}
	if hint {
		s.records.setClass(0, ClassTitle)
		s.records.addNote(0, SepHint)
	}
	head, err := s.findHeading(voc, width, settings)
	if err != nil {
		return err
	}
	if err := s.refuseProse(voc, settings); err != nil {
		return err
	}
	if int64(len(s.Header)) > s.sizes.columns {
		where := fmt.Sprintf("the heading on line %d has", s.HeaderLine)
		if s.HeaderLine == 0 {
			where = "there is no heading, and the rows have"
		}
		return fmt.Errorf("%s: %s %d cells, more than %d: is %s the separator? Choose with --set separator, or raise --set limit-columns",
			name, where, len(s.Header), s.sizes.columns, delimiterNames[s.Dialect.Delimiter])
	}
	if err := s.classify(voc, head); err != nil {
		return err
	}
	if err := s.takeAsRows(settings); err != nil {
		return err
	}
	s.noteSections(settings)
	s.judge(settings)
	if err := s.judgeShifted(voc, settings); err != nil {
		return err
	}
	s.records.forgetLooks()
	s.recount()
	if s.OfWorkbook() { // what parts its text is our own doing
		s.Proof = slices.DeleteFunc(s.Proof, func(p Proof) bool { return p.What == "encoding" || p.What == "separator" || p.What == "quotes" })
	}
	return nil
}

// unpacked returns the bytes of the sheet itself: out of an archive, and of a
// workbook the text that says the same.
func (s *Sheet) unpacked(voc *vocabulary, name string, raw *text, settings Settings) (sheet *text, packed string, err error) {
	if err := tooLarge(name, raw.Size(), s.sizes); err != nil {
		return nil, "", err
	}
	if !isWorkbook(raw) {
		if raw, packed, err = s.unpack(name, raw, settings); err != nil || !isWorkbook(raw) {
			return raw, packed, err
		}
		settings = maps.Clone(settings)
		delete(settings, "sheet") // it chose the file in the archive
		packed += ", "
	}
	sheet, worksheet, err := s.readWorkbook(voc, name, raw, settings)
	return sheet, packed + worksheet, err
}

// CheckSize refuses a file that is larger than the settings allow.
func CheckSize(name string, size int64, settings Settings) error {
	return tooLarge(name, size, settings.limits())
}

func tooLarge(name string, size int64, l sizeLimits) error {
	if size > l.file {
		return fmt.Errorf("%s is larger than %s: split the sheet and import its parts, or raise --set limit-file", name, sizeText(l.file))
	}
	return nil
}
