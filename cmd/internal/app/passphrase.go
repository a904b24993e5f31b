package app

import (
	"crypto/pbkdf2"
	"crypto/rand"
	"crypto/sha256"
	"crypto/subtle"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"
)

// PassphraseFile, in the data folder, holds the digest of the passphrase under
// which other machines may ask for the page.
const PassphraseFile = "passphrase"

// How a passphrase is kept: PBKDF2 with HMAC-SHA-256 (RFC 8018), as often as the
// OWASP Password Storage Cheat Sheet asks for, with a salt of 128 bits at least
// (NIST SP 800-132, 5.1).
const (
	passphraseKind  = "pbkdf2-sha256"
	passphraseTurns = 600_000
	mostTurns       = 10 * passphraseTurns // that a file may ask for
	saltBytes       = 16
)

// Lengths of a passphrase, in characters.
const (
	ShortestPassphrase = 10
	longestPassphrase  = 500
)

// Passphrase knows the passphrase when it sees it.
type Passphrase struct {
	line      string
	turns     int
	salt, key []byte
}

// ReadPassphrase returns the passphrase of a data folder; nil where none is set.
func ReadPassphrase(home string) (*Passphrase, error) {
	path := filepath.Join(home, PassphraseFile)
	text, err := os.ReadFile(path)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	damaged := fmt.Errorf("the file %s is not as fitfill wrote it: set the passphrase anew with fitfill passphrase", path)
	p := &Passphrase{line: string(text)}
	var kind, salt, key string
	if n, err := fmt.Sscanf(p.line, "%s %d %s %s\n", &kind, &p.turns, &salt, &key); err != nil || n != 4 || kind != passphraseKind || p.turns < 1 || p.turns > mostTurns {
		return nil, damaged
	}
	if p.salt, err = hex.DecodeString(salt); err != nil {
		return nil, damaged
	}
	if p.key, err = hex.DecodeString(key); err != nil || len(p.key) != sha256.Size {
		return nil, damaged
	}
	return p, nil
}

// Passphrase returns the passphrase of the page as it is now; nil where none is
// set.
func (s *Shop) Passphrase() (*Passphrase, error) { return ReadPassphrase(s.store.Dir()) }

// Matches reports whether that is the passphrase. It takes its time, and the same
// time whatever is tried.
func (p *Passphrase) Matches(text string) bool {
	if len(text) > longestPassphrase*utf8.UTFMax {
		return false
	}
	key, err := pbkdf2.Key(sha256.New, norm.NFC.String(text), p.salt, p.turns, sha256.Size)
	return err == nil && subtle.ConstantTimeCompare(key, p.key) == 1
}

// Same reports whether q is this very passphrase, set at the same time.
func (p *Passphrase) Same(q *Passphrase) bool { return p.line == q.line }

// SetPassphrase sets the passphrase of a data folder, in the place of the one
// that is there. A page that is being served asks everybody for the new one at
// once. A UsageError where it is too short, or holds what nobody can type.
func SetPassphrase(home, text string) error {
	text = norm.NFC.String(text)
	if n := utf8.RuneCountInString(text); n < ShortestPassphrase || n > longestPassphrase {
		return &UsageError{
			Problem: fmt.Sprintf("the passphrase has %s; it needs %d to %d", Plural(n, "character", "characters"), ShortestPassphrase, longestPassphrase),
			Hint:    "take a few words that nobody would put together",
		}
	}
	if !utf8.ValidString(text) || strings.ContainsFunc(text, unicode.IsControl) {
		return &UsageError{Problem: "the passphrase holds a sign that cannot be typed in a browser", Hint: "take letters, digits, spaces and signs"}
	}
	if strings.TrimSpace(text) != text {
		return &UsageError{Problem: "the passphrase begins or ends with a space, which nobody sees", Hint: "leave it out"}
	}
	salt := make([]byte, saltBytes)
	rand.Read(salt) // it never fails: it ends the program instead
	key, err := pbkdf2.Key(sha256.New, text, salt, passphraseTurns, sha256.Size)
	if err != nil {
		return err
	}
	line := fmt.Sprintf("%s %d %s %s\n", passphraseKind, passphraseTurns, hex.EncodeToString(salt), hex.EncodeToString(key))
	if err := os.MkdirAll(home, 0o755); err != nil {
		return err
	}
	return writeWhole(filepath.Join(home, PassphraseFile), []byte(line))
}

// RemovePassphrase removes the passphrase of a data folder and reports whether
// there was one.
func RemovePassphrase(home string) (was bool, err error) {
	err = os.Remove(filepath.Join(home, PassphraseFile))
	if errors.Is(err, fs.ErrNotExist) {
		return false, nil
	}
	return err == nil, err
}

// writeWhole writes a file that only this user can read, and that is the old one
// or the new one whenever it is read.
func writeWhole(path string, text []byte) error {
	f, err := os.CreateTemp(filepath.Dir(path), "."+filepath.Base(path)+".*")
	if err != nil {
		return err
	}
	_, err = f.Write(text)
	if err == nil {
		err = f.Sync()
	}
	if err = errors.Join(err, f.Close()); err == nil {
		err = os.Rename(f.Name(), path)
	}
	if err != nil {
		return errors.Join(err, os.Remove(f.Name()))
	}
	syncFolder(filepath.Dir(path))
	return nil
}
