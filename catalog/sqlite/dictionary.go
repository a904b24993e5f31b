package sqlite

import (
	"context"
	"database/sql"
	"fmt"
	"math"
	"strings"
)

// dictionary hands out the numbers of words, applications and parts while a
// sheet is staged. Only the holder of the import lock adds to them, so numbers
// given out here are still free at the commit.
type dictionary struct {
	words    map[string]int64
	apps     map[application]int64
	parts    map[string]*stagedPart
	nextWord int64
	nextApp  int64
	nextPart int64
	newWords []string
	newApps  []application
}

// application is a vehicle-and-engine statement as word numbers, in the order
// of the table's columns.
type application [8]int64

type stagedPart struct {
	id      int64
	number  string
	known   bool   // stands in the catalogue already
	named   bool   // this sheet speaks of it
	seen    uint64 // fields stated by this sheet so far, as bits
	content uint64
}

func (s *Store) dictionary(ctx context.Context, supplierID int64) (*dictionary, error) {
	d := &dictionary{words: map[string]int64{}, apps: map[application]int64{}, parts: map[string]*stagedPart{}}
	words, err := s.write.QueryContext(ctx, "SELECT id, text FROM word")
	if err != nil {
		return nil, busy(err)
	}
	defer words.Close()
	for words.Next() {
		var id int64
		var text string
		if err := words.Scan(&id, &text); err != nil {
			return nil, err
		}
		d.words[text] = id
		d.nextWord = max(d.nextWord, id)
	}
	if err := words.Err(); err != nil {
		return nil, err
	}
	if err := d.loadApplications(ctx, s); err != nil {
		return nil, err
	}
	return d, d.loadParts(ctx, s, supplierID)
}

const selectApplications = "SELECT id, make, model, engine, years, vin8, where_fitted, condition, quantity FROM application"

func scanApplication(rows *sql.Rows) (id int64, a application, err error) {
	err = rows.Scan(&id, &a[0], &a[1], &a[2], &a[3], &a[4], &a[5], &a[6], &a[7])
	return id, a, err
}

func (d *dictionary) loadApplications(ctx context.Context, s *Store) error {
	rows, err := s.write.QueryContext(ctx, selectApplications)
	if err != nil {
		return err
	}
	defer rows.Close()
	for rows.Next() {
		id, a, err := scanApplication(rows)
		if err != nil {
			return err
		}
		d.apps[a] = id
		d.nextApp = max(d.nextApp, id)
	}
	return rows.Err()
}

func (d *dictionary) loadParts(ctx context.Context, s *Store, supplierID int64) error {
	if err := s.write.QueryRowContext(ctx, "SELECT coalesce(max(id), 0) FROM part").Scan(&d.nextPart); err != nil {
		return err
	}
	rows, err := s.write.QueryContext(ctx, "SELECT id, key, number FROM part WHERE supplier_id = ?", supplierID)
	if err != nil {
		return err
	}
	defer rows.Close()
	for rows.Next() {
		p := &stagedPart{known: true}
		var key string
		if err := rows.Scan(&p.id, &key, &p.number); err != nil {
			return err
		}
		d.parts[key] = p
	}
	return rows.Err()
}

func (d *dictionary) word(text string) int64 {
	id, ok := d.words[text]
	if !ok {
		d.nextWord++
		id = d.nextWord
		text = strings.Clone(text) // it may be a piece of a page of the sheet
		d.words[text] = id
		d.newWords = append(d.newWords, text)
	}
	return id
}

func (d *dictionary) application(a application) int64 {
	id, ok := d.apps[a]
	if !ok {
		d.nextApp++
		id = d.nextApp
		d.apps[a] = id
		d.newApps = append(d.newApps, a)
	}
	return id
}

func (d *dictionary) part(key, number string) (*stagedPart, error) {
	if key == "" {
		return nil, fmt.Errorf("part number %q holds neither a letter nor a digit", number)
	}
	p, ok := d.parts[key]
	if !ok {
		d.nextPart++
		if d.nextPart == math.MaxInt64 {
			return nil, fmt.Errorf("no part numbers are left in this catalogue")
		}
		p = &stagedPart{id: d.nextPart, number: strings.Clone(number)}
		d.parts[strings.Clone(key)] = p
	}
	return p, nil
}

// sum is FNV-1a over 64 bits: quick, and the same on every machine and day.
type sum uint64

const (
	fnvOffset sum = 14695981039346656037
	fnvPrime  sum = 1099511628211
)

func (h sum) text(s string) sum {
	for i := 0; i < len(s); i++ {
		h = (h ^ sum(s[i])) * fnvPrime
	}
	return (h ^ 0x1f) * fnvPrime // a separator, so that "a","bc" differs from "ab","c"
}

func (h sum) number(n int64) sum {
	for range 8 {
		h = (h ^ sum(byte(n))) * fnvPrime
		n >>= 8
	}
	return h
}
