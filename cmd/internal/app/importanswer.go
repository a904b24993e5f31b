package app

import (
	"fmt"
	"slices"
	"strings"

	"fitfill/catalog"
	"fitfill/catalog/sqlite"
	"fitfill/importers"
)

// Status says what became of a sheet.
type Status string

// The statuses.
const (
	Imported  Status = "imported"
	Staged    Status = "staged"
	Unchanged Status = "unchanged"
)

// ImportAnswer is what became of a sheet.
type ImportAnswer struct {
	Status      Status            `json:"status"`
	Open        []OpenQuestion    `json:"open"`
	ID          int64             `json:"id"` // number of the sheet, or of the one that waits
	Sheet       string            `json:"sheet"`
	Supplier    string            `json:"supplier"`
	NewSupplier bool              `json:"new_supplier"`
	Kind        catalog.SheetKind `json:"kind"`
	Table       string            `json:"table,omitempty"` // the reference table that it overrides
	RowsRead    int               `json:"rows_read"`
	RowsTaken   int               `json:"rows_taken"`
	RowsHeld    int               `json:"rows_held"`
	RowsSkipped int               `json:"rows_skipped"`

	// RowsCorrected counts the rows taken as a person corrected them; they are
	// among RowsTaken.
	RowsCorrected int `json:"rows_corrected"`

	Columns   []MappedColumn       `json:"-"`
	ColumnMap map[string]string    `json:"columns"`
	Ignored   []string             `json:"ignored"`
	Held      []catalog.HeldRow    `json:"held"`
	SetAside  []SetAside           `json:"set_aside"`
	Remarks   []importers.Remark   `json:"remarks"`
	Repeats   int                  `json:"repeats"` // rows that say word for word what an earlier one says
	Changes   sqlite.Changes       `json:"changes"`
	Replaces  []string             `json:"replaces"`
	Notes     []importers.FileNote `json:"notes"`
	Report    *ChangeReport        `json:"change_report,omitempty"`

	// Unread counts the notes of the supplier's rows that are not understood
	// and not answered yet.
	Unread *UnreadNotes `json:"unread_notes,omitempty"`
}

// UnreadNotes is how many texts of notes wait for an answer, and on how many
// rows they stand.
type UnreadNotes struct {
	Texts int `json:"texts"`
	Rows  int `json:"rows"`
}

// SetAside is a line between or below the rows that was taken for something else.
type SetAside struct {
	Line  int    `json:"line"`
	Class string `json:"class"` // section or footer
	Text  string `json:"text"`
}

// MappedColumn is a column with the field that it fills and how it is read.
type MappedColumn struct{ Heading, Field, Reading string }

// OpenQuestion is something that only a person can decide, with the words that
// go on the command line to decide it.
type OpenQuestion struct {
	Code     string   `json:"code"`
	Question string   `json:"question"`
	Examples []string `json:"examples,omitempty"` // lines that show what it is about
	Choices  []string `json:"choices"`
	Command  string   `json:"command"`
	Gate     string   `json:"gate,omitempty"` // name of the gate, where a gate asks
}

// acceptSupplier is the word after --accept that adds a supplier although its
// name is close to that of a known one.
const acceptSupplier = "new-supplier"

func newImportAnswer(sheet string) ImportAnswer {
	return ImportAnswer{
		Sheet: sheet, Open: []OpenQuestion{}, Held: []catalog.HeldRow{}, SetAside: []SetAside{}, Remarks: []importers.Remark{}, Ignored: []string{},
		Replaces: []string{}, Notes: []importers.FileNote{}, ColumnMap: map[string]string{},
	}
}

// unchanged says that a sheet is in use as it is.
func (a *ImportAnswer) unchanged(k sqlite.SheetRecord) {
	a.Status, a.ID = Unchanged, k.ID
	a.RowsRead, a.RowsTaken, a.RowsHeld, a.RowsSkipped = k.Counts.Read, k.Counts.Taken, k.Counts.Held, k.Counts.Skipped
}

func (a *ImportAnswer) describe(m importers.Mapping) {
	for _, c := range m.Columns {
		a.ColumnMap[c.Heading] = c.Field
		var reading []string
		if c.Unit != "" {
			reading = append(reading, "in "+string(c.Unit))
		}
		if c.Currency != "" {
			reading = append(reading, "in "+c.Currency)
		}
		if c.Per != "" {
			reading = append(reading, importers.PerWords(c.Per))
		}
		if c.Decimal == importers.Comma {
			reading = append(reading, "decimal comma")
		}
		if c.Dates != "" {
			reading = append(reading, "dates "+c.Dates)
		}
		a.Columns = append(a.Columns, MappedColumn{c.Heading, c.Field, strings.Join(reading, ", ")})
	}
	a.Ignored = append(a.Ignored, m.Ignored...)
}

func whichSheet(choice *importers.SheetChoice) OpenQuestion {
	o := OpenQuestion{Code: askWhichSheet, Question: fmt.Sprintf("%s holds %d sheets. Which one?", choice.Name, len(choice.Sheets)), Choices: choice.Sheets}
	var flags []string
	for _, name := range choice.Sheets {
		flags = append(flags, fmt.Sprintf("--set sheet=%q", name))
	}
	o.Command = strings.Join(flags, " or ")
	return o
}

func openQuestion(o importers.Question) OpenQuestion {
	q := OpenQuestion{Code: o.Code, Question: o.Question, Examples: o.Examples, Choices: o.Choices, Command: o.Command}
	if slices.Contains(importerGates, o.Code) {
		q.Gate = o.Code
	}
	if q.Choices == nil {
		q.Choices = []string{}
	}
	return q
}
