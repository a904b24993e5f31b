package importers

import (
	"errors"
	"fmt"
	"iter"
	"maps"
	"strings"

	"fitfill/catalog"
)

// Inspection is what the reading of a sheet shows before anything is mapped,
// with every suggestion accepted.
type Inspection struct {
	Name     string     `json:"name"`
	SHA256   string     `json:"sha256"`
	Packed   string     `json:"packed,omitempty"`
	Proof    []Proof    `json:"detected"`
	Header   []string   `json:"header"`
	Counts   Counts     `json:"counts"`
	Notes    []FileNote `json:"notes"`
	Accepted []Question `json:"accepted"` // what an import would ask, answered as suggested here

	// Encodings and Readings show what the question about the encoding is about.
	Encodings []string  `json:"encodings,omitempty"`
	Readings  []Reading `json:"readings,omitempty"`

	Sheet *Sheet `json:"-"`
}

// HeldLine is a row that is held for its shape.
type HeldLine struct {
	Line     int      `json:"line"`
	LastLine int      `json:"last_line"`
	Code     string   `json:"code"`
	Reason   string   `json:"reason"`
	Cells    []string `json:"cells"`
}

// Inspect reads a sheet like OpenFile, takes every suggestion of its questions, and
// checks the ledger.
func Inspect(ref catalog.Reference, name string, f File, scratch Scratch, settings Settings) (Inspection, error) {
	voc, err := vocabularyOf(ref)
	if err != nil {
		return Inspection{}, err
	}
	if err := settings.check(); err != nil {
		return Inspection{}, err
	}
	return inspectFile(voc, name, f, usualStorage(scratch), settings)
}

func inspectFile(voc *vocabulary, name string, f File, st storage, settings Settings) (in Inspection, err error) {
	said := Settings{}
	maps.Copy(said, settings)
	in = Inspection{Name: name, Notes: []FileNote{}, Accepted: []Question{}}
	for {
		s, err := openFile(voc, name, f, st, said)
		if err != nil {
			return Inspection{}, errors.Join(err, in.Close())
		}
		if in.Sheet == nil {
			in.Proof, in.Encodings, in.Readings = s.Proof, s.Encodings, s.Readings
		}
		if err := in.Close(); err != nil {
			return Inspection{}, errors.Join(err, s.Close())
		}
		in.Sheet = s
		answered := false
		in.Accepted = append(in.Accepted, s.questions...)
		for setting, value := range s.answers {
			if said[setting] == "" {
				said[setting], answered = value, true
			}
		}
		if !answered {
			break
		}
	}
	in.SHA256, in.Packed, in.Header = in.Sheet.SHA256, in.Sheet.Packed, in.Sheet.Header
	in.Notes = append(append(in.Notes, in.Sheet.Notes...), in.Sheet.labelNotes()...)
	in.Counts, err = CheckLedger(in.Sheet.Spans(nil), in.Sheet.File().Size(), nil)
	return in, errors.Join(err, in.Sheet.text.err())
}

// Close takes away what the sheet needed besides its file.
func (in Inspection) Close() error {
	if in.Sheet == nil {
		return nil
	}
	return in.Sheet.Close()
}

// Sentence sums the sheet up: "3,214 lines: 1 header, 2 preamble, 5 blank,
// 3,206 rows. 3,190 accepted, 16 held back."
func (in Inspection) Sentence() string {
	var parts []string
	for _, class := range []string{"dialect-hint", "preamble", "header", "repeated-header", "section", "blank", "footer"} {
		if n := in.Counts.Classes[class]; n > 0 {
			parts = append(parts, countText(n)+" "+class)
		}
	}
	if n := in.Counts.Classes["data"]; n == 1 {
		parts = append(parts, "1 row")
	} else {
		parts = append(parts, countText(n)+" rows")
	}
	return fmt.Sprintf("%s lines: %s. %s accepted, %s held back.", countText(in.Counts.Lines), strings.Join(parts, ", "),
		countText(in.Counts.Imported), countText(in.Counts.Held))
}

func countText(n int) string {
	text := fmt.Sprint(n)
	for i := len(text) - 3; i > 0; i -= 3 {
		text = text[:i] + "," + text[i:]
	}
	return text
}

// Rows goes through the accepted rows: line and cells exactly as read. The
// cells are only valid until the next row.
func (in Inspection) Rows() iter.Seq2[int, []string] {
	return in.rows(false)
}

func (in Inspection) rows(withHeld bool) iter.Seq2[int, []string] {
	return func(yield func(int, []string) bool) {
		var cells []string
		for i := range in.Sheet.records.n {
			records := &in.Sheet.records
			if records.class(i) != ClassData || records.fault(i) != NoFault && !withHeld {
				continue
			}
			cells = in.Sheet.Cells(i, cells)
			if !yield(records.lineOf(i), cells) {
				return
			}
		}
	}
}

// Held goes through the rows that are held for their shape.
func (in Inspection) Held() iter.Seq[HeldLine] {
	return func(yield func(HeldLine) bool) {
		for i := range in.Sheet.records.n {
			r := in.Sheet.records.at(i)
			if r.Class != ClassData || r.Fault == NoFault {
				continue
			}
			if !yield(HeldLine{int(r.Line), r.LastLine(), r.Fault.Code(), in.Sheet.faultReason(i), in.Sheet.Cells(i, nil)}) {
				return
			}
		}
	}
}
