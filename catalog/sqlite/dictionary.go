package sqlite

import (
	"context"
	"errors"
	"slices"
)

// dictionary hands out the numbers of words, applications and parts while a
// sheet is staged. Only the holder of the import lock adds to them, so numbers
// given out here are still free at the commit.
type dictionary struct {
	words    *textTable
	oldWords []int64 // numbers in the catalogue of the first words, ascending
	nextWord int64

	apps    map[application]int64
	nextApp int64
	newApps []application

	parts partList
}

// application is a vehicle-and-engine statement as word numbers, in the order
// of the table's columns.
type application [8]int64

// dictionary reads what the catalogue knows. It keeps texts in dir, and must be closed.
func (s *Store) dictionary(ctx context.Context, dir string, supplierID int64) (*dictionary, error) {
	texts := textStore{dir: dir}
	d := &dictionary{words: &textTable{textStore: texts}, apps: map[application]int64{}, parts: partList{keys: &textTable{textStore: texts}, numbers: texts}}
	err := errors.Join(d.loadWords(ctx, s), d.loadApplications(ctx, s), d.loadParts(ctx, s, supplierID))
	if err != nil {
		return nil, errors.Join(err, d.close())
	}
	return d, nil
}

func (d *dictionary) close() error {
	return errors.Join(d.words.close(), d.parts.keys.close(), d.parts.numbers.close())
}

// err is what went wrong with what the dictionary keeps, if anything did.
func (d *dictionary) err() error {
	return errors.Join(d.words.err(), d.parts.keys.err(), d.parts.numbers.err())
}

func (d *dictionary) loadWords(ctx context.Context, s *Store) error {
	return eachRow(ctx, s.write, "SELECT id, text FROM word ORDER BY id", nil, func(r record) error {
		var id int64
		var text string
		if err := r.Scan(&id, &text); err != nil {
			return err
		}
		d.words.number(text)
		d.oldWords = append(d.oldWords, id)
		d.nextWord = id
		return nil
	})
}

const selectApplications = "SELECT id, make, model, engine, years, vin8, where_fitted, condition, quantity FROM application"

func scanApplication(rows record) (id int64, a application, err error) {
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
	if err := s.write.QueryRowContext(ctx, "SELECT coalesce(max(id), 0) FROM part").Scan(&d.parts.next); err != nil {
		return err
	}
	return eachRow(ctx, s.write, "SELECT id, key, number FROM part WHERE supplier_id = ? ORDER BY id", []any{supplierID}, func(r record) error {
		var id int64
		var key, number string
		if err := r.Scan(&id, &key, &number); err != nil {
			return err
		}
		d.parts.load(id, key, number)
		return nil
	})
}

// word returns the number of a word.
func (d *dictionary) word(text string) int64 {
	i, isNew := d.words.number(text)
	if isNew {
		d.nextWord++
	}
	return d.wordID(i)
}

func (d *dictionary) wordID(i int) int64 {
	if i < len(d.oldWords) {
		return d.oldWords[i]
	}
	return d.nextWord - int64(d.words.len()-1-i)
}

// text returns the word of a number, empty if there is none.
func (d *dictionary) text(id int64) string {
	i, ok := slices.BinarySearch(d.oldWords, id)
	if !ok {
		if i = d.words.len() - 1 - int(d.nextWord-id); i < len(d.oldWords) || id > d.nextWord {
			return ""
		}
	}
	return d.words.text(i)
}

// eachNewWord hands on the words that the catalogue does not know yet, in the order of
// their numbers.
func (d *dictionary) eachNewWord(do func(id int64, text string) error) error {
	for i := len(d.oldWords); i < d.words.len(); i++ {
		if err := do(d.wordID(i), d.words.text(i)); err != nil {
			return err
		}
	}
	return nil
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
