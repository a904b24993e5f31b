package sqlite

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"maps"
	"slices"
)

// Missing returns the marks of f that other does not know by the same digest.
func (f ForgottenMarks) Missing(other ForgottenMarks) ForgottenMarks {
	m := ForgottenMarks{secrets: f.secrets, names: map[string]string{}}
	for digest, name := range f.names {
		if _, known := other.names[digest]; !known {
			m.names[digest] = name
		}
	}
	return m
}

// Names lists the names that histories of forgotten vehicles are kept under.
func (f ForgottenMarks) Names() []string {
	return slices.Compact(slices.Sorted(maps.Values(f.names)))
}

// NameIn returns the name under which other keeps the vehicle that is name in f:
// they share one of its digests.
func (f ForgottenMarks) NameIn(other ForgottenMarks, name string) (string, bool) {
	for digest, its := range f.names {
		if theirs, ok := other.names[digest]; ok && its == name {
			return theirs, true
		}
	}
	return "", false
}

// TakeOver adds the marks that another catalogue has forgotten to those of this
// one, under the names that as gives them. The caller holds the import lock.
func (s *Store) TakeOver(ctx context.Context, lock *ImportLock, f ForgottenMarks, as map[string]string) error {
	if lock == nil {
		return fmt.Errorf("taking over forgotten vehicles needs the import lock")
	}
	tx, err := s.write.BeginTx(ctx, nil)
	if err != nil {
		return busy(err)
	}
	defer tx.Rollback()
	secrets, err := readSecrets(ctx, tx)
	if err != nil && !errors.Is(err, sql.ErrNoRows) {
		return err
	}
	for _, secret := range f.secrets {
		if !slices.ContainsFunc(secrets, func(own []byte) bool { return string(own) == string(secret) }) {
			secrets = append(secrets, secret)
		}
	}
	if err := writeSecrets(ctx, tx, secrets); err != nil {
		return err
	}
	for digest, name := range f.names {
		if _, err := tx.ExecContext(ctx, "INSERT OR IGNORE INTO forgotten (digest, name) VALUES (?, ?)", []byte(digest), as[name]); err != nil {
			return err
		}
	}
	return busy(tx.Commit())
}

// EachText calls do with every text outside of the kept sheets that may name a
// vehicle.
func (v *View) EachText(ctx context.Context, do func(text string)) error {
	queries := []string{"SELECT DISTINCT vehicle FROM logged", "SELECT DISTINCT vin FROM logged", "SELECT DISTINCT vehicle FROM said", "SELECT cells FROM correction"}
	for _, c := range slices.Concat(vehicleColumns, textColumns) {
		queries = append(queries, fmt.Sprintf("SELECT text FROM word WHERE id IN (SELECT %s FROM %s)", c[1], c[0]))
	}
	for _, c := range plainColumns {
		queries = append(queries, fmt.Sprintf("SELECT DISTINCT %s FROM %s", c[1], c[0]))
	}
	for _, query := range queries {
		err := v.each(ctx, query, nil, func(r record) error {
			var text string
			err := r.Scan(&text)
			do(text)
			return err
		})
		if err != nil {
			return err
		}
	}
	return nil
}
