package sqlite

import (
	"context"
	"crypto/hmac"
	"crypto/rand"
	"crypto/sha256"
	"database/sql"
	"encoding/hex"
	"errors"
	"fmt"
	"strings"
)

// forgetSecret is the setting that holds the keys of the digests, with a space
// between: one, and those of other catalogues whose forgotten vehicles were taken
// over. A digest says nothing to whoever does not have the catalogue; whoever has
// it can try a guessed mark, as this program does.
const forgetSecret = "forget-secret"

// ForgottenMarks knows the marks and VINs of forgotten vehicles when it sees
// them, and cannot name them.
type ForgottenMarks struct {
	secrets [][]byte
	names   map[string]string // digest → the name that the history is kept under
}

// None reports whether no vehicle was forgotten.
func (f ForgottenMarks) None() bool { return len(f.names) == 0 }

// Name returns the name under which the history of the vehicle with that folded
// mark or VIN is kept, if it was forgotten.
func (f ForgottenMarks) Name(key string) (name string, forgotten bool) {
	if f.None() || key == "" {
		return "", false
	}
	for _, secret := range f.secrets {
		if name, forgotten = f.names[string(markDigest(secret, key))]; forgotten {
			return name, true
		}
	}
	return "", false
}

// Taken reports whether the history of a forgotten vehicle is kept under name.
func (f ForgottenMarks) Taken(name string) bool {
	for _, taken := range f.names {
		if taken == name {
			return true
		}
	}
	return false
}

func markDigest(secret []byte, key string) []byte {
	h := hmac.New(sha256.New, secret)
	h.Write([]byte(key))
	return h.Sum(nil)
}

// Forgotten returns the marks that were forgotten.
func (v *View) Forgotten(ctx context.Context) (f ForgottenMarks, err error) {
	f.names = map[string]string{}
	err = v.each(ctx, "SELECT digest, name FROM forgotten", nil, func(r record) error {
		var digest []byte
		var name string
		err := r.Scan(&digest, &name)
		f.names[string(digest)] = name
		return err
	})
	if err != nil || f.None() {
		return f, err
	}
	var text string
	if err := v.row(ctx, readSetting, []any{forgetSecret}, &text); err != nil {
		return f, err
	}
	f.secrets, err = secretsIn(text)
	return f, err
}

func secretsIn(text string) (secrets [][]byte, err error) {
	for _, word := range strings.Fields(text) {
		secret, err := hex.DecodeString(word)
		if err != nil {
			return nil, err
		}
		secrets = append(secrets, secret)
	}
	if len(secrets) == 0 {
		return nil, errors.New("the key of forgotten vehicles is empty")
	}
	return secrets, nil
}

const readSetting = "SELECT value FROM setting WHERE key = ?"

func readSecrets(ctx context.Context, tx *sql.Tx) ([][]byte, error) {
	var text string
	if err := tx.QueryRowContext(ctx, readSetting, forgetSecret).Scan(&text); err != nil {
		return nil, err
	}
	return secretsIn(text)
}

func writeSecrets(ctx context.Context, tx *sql.Tx, secrets [][]byte) error {
	var words []string
	for _, secret := range secrets {
		words = append(words, hex.EncodeToString(secret))
	}
	_, err := tx.ExecContext(ctx, "INSERT OR REPLACE INTO setting (key, value) VALUES (?, ?)", forgetSecret, strings.Join(words, " "))
	return err
}

// marks keeps the digests of what is forgotten.
func (f Forget) marks(ctx context.Context, tx *sql.Tx) error {
	secrets, err := readSecrets(ctx, tx)
	if errors.Is(err, sql.ErrNoRows) {
		secret := make([]byte, sha256.Size)
		rand.Read(secret) // it never fails: it ends the program instead
		secrets = [][]byte{secret}
		err = writeSecrets(ctx, tx, secrets)
	}
	if err != nil {
		return err
	}
	for _, key := range f.Keys {
		if _, err := tx.ExecContext(ctx, "INSERT OR REPLACE INTO forgotten (digest, name) VALUES (?, ?)", markDigest(secrets[0], key), f.As); err != nil {
			return err
		}
	}
	return nil
}

// Remember lets sheets name a vehicle again that was forgotten: the garage has
// written its mark down itself. What was forgotten stays so.
func (s *Store) Remember(ctx context.Context, keys ...string) error {
	tx, err := s.write.BeginTx(ctx, nil)
	if err != nil {
		return busy(err)
	}
	defer tx.Rollback()
	secrets, err := readSecrets(ctx, tx)
	if errors.Is(err, sql.ErrNoRows) {
		return nil
	}
	if err != nil {
		return err
	}
	for _, key := range keys {
		for _, secret := range secrets {
			if _, err := tx.ExecContext(ctx, "DELETE FROM forgotten WHERE digest = ?", markDigest(secret, key)); err != nil {
				return err
			}
		}
	}
	return busy(tx.Commit())
}

// eventRow is a row of a table of events by its number.
type eventRow struct {
	table string
	id    int64
}

// recount sums up the content of events anew in which words were changed, so
// that a later sheet with the same words states the same events.
func recount(ctx context.Context, tx *sql.Tx, changed map[eventRow]bool) error {
	type group struct {
		table   string
		sheet   int64
		content int64
	}
	again := map[group]bool{}
	columns := map[string][]string{}
	for row := range changed {
		if columns[row.table] == nil {
			names, err := valueColumns(ctx, tx, row.table)
			if err != nil {
				return err
			}
			columns[row.table] = names
		}
		names := columns[row.table]
		values, to := make([]any, len(names)), make([]any, len(names)+1)
		var sheet sql.NullInt64
		to[0] = &sheet
		for i := range values {
			to[i+1] = &values[i]
		}
		query := fmt.Sprintf("SELECT sheet_id, %s FROM %s WHERE id = ?", strings.Join(names, ", "), row.table)
		if err := tx.QueryRowContext(ctx, query, row.id).Scan(to...); err != nil {
			return err
		}
		content := int64(eventContent(row.table, values))
		if _, err := tx.ExecContext(ctx, "UPDATE "+row.table+" SET content = ? WHERE id = ?", content, row.id); err != nil {
			return err
		}
		again[group{row.table, sheet.Int64, content}] = true
	}
	for g := range again {
		_, err := tx.ExecContext(ctx, fmt.Sprintf(`UPDATE %[1]s SET repeat = (SELECT count(*) FROM %[1]s e WHERE e.sheet_id = %[1]s.sheet_id
			AND e.content = %[1]s.content AND e.id < %[1]s.id) WHERE sheet_id = ? AND content = ?`, g.table), g.sheet, g.content)
		if err != nil {
			return err
		}
	}
	return nil
}

// valueColumns are the columns of a table of events that its content sums up, in
// their order.
func valueColumns(ctx context.Context, tx *sql.Tx, table string) (names []string, err error) {
	err = eachRow(ctx, tx, "SELECT name FROM pragma_table_info(?) WHERE name NOT IN ('id', 'sheet_id', 'line', 'content', 'repeat') ORDER BY cid", []any{table}, func(r record) error {
		var name string
		err := r.Scan(&name)
		names = append(names, name)
		return err
	})
	return names, err
}
