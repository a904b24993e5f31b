package sqlite

import (
	"context"
	"database/sql"
	"errors"
)

// Holdings sums up what a catalogue holds.
type Holdings struct {
	Sheets     int    `json:"sheets"`   // in use
	Parts      int    `json:"parts"`    // that the sheets in use speak of
	Vehicles   int    `json:"vehicles"` // on file, from sheets or put down by hand
	Logged     int    `json:"logged"`   // entries put down by hand
	Waiting    int    `json:"waiting"`  // sheets that wait for a decision
	OwnTables  int    `json:"own_tables"`
	LastSheet  string `json:"last_import,omitempty"` // name of the sheet that was imported last
	LastImport string `json:"last_import_at,omitempty"`
	// Nothing tells that the catalogue holds nothing that anybody put there: no
	// sheet, in use or not, no entry, no name and no forgotten vehicle.
	Nothing bool `json:"-"`
}

// Holdings sums up what the catalogue holds.
func (v *View) Holdings(ctx context.Context) (h Holdings, err error) {
	err = v.row(ctx, `SELECT (SELECT count(*) FROM sheet WHERE active = 1),
		(SELECT count(DISTINCT sp.part_id) FROM sheet_part sp JOIN sheet s ON s.id = sp.sheet_id WHERE s.active = 1),
		(SELECT count(*) FROM logged WHERE undone_at = ''), (SELECT count(*) FROM staged), (SELECT count(*) FROM own_table),
		NOT (EXISTS (SELECT 1 FROM sheet) OR EXISTS (SELECT 1 FROM staged) OR EXISTS (SELECT 1 FROM logged) OR EXISTS (SELECT 1 FROM said)
			OR EXISTS (SELECT 1 FROM own_table) OR EXISTS (SELECT 1 FROM supplier_name) OR EXISTS (SELECT 1 FROM forgotten)
			OR EXISTS (SELECT 1 FROM decision) OR EXISTS (SELECT 1 FROM note_answer))`, nil,
		&h.Sheets, &h.Parts, &h.Logged, &h.Waiting, &h.OwnTables, &h.Nothing)
	if err != nil {
		return h, err
	}
	err = v.row(ctx, "SELECT name, imported_at FROM sheet ORDER BY id DESC LIMIT 1", nil, &h.LastSheet, &h.LastImport)
	if err != nil && !errors.Is(err, sql.ErrNoRows) {
		return h, err
	}
	cars, err := v.Vehicles(ctx)
	h.Vehicles = len(cars)
	return h, err
}
