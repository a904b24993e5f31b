package app

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func TestAPassphraseIsKnownAgainAndNothingElse(t *testing.T) {
	home := t.TempDir()
	if p, err := ReadPassphrase(home); p != nil || err != nil {
		t.Fatalf("%v %v", p, err)
	}
	const words = "four blü cans"
	if err := SetPassphrase(home, words); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(home, PassphraseFile)
	info, err := os.Stat(path)
	if err != nil || info.Mode().Perm() != 0o600 {
		t.Errorf("others can read it: %v %v", info.Mode(), err)
	}
	text, err := os.ReadFile(path)
	if err != nil || strings.Contains(string(text), "cans") {
		t.Errorf("it is kept as it is: %s %v", text, err)
	}
	p, err := ReadPassphrase(home)
	if err != nil {
		t.Fatal(err)
	}
	for try, want := range map[string]bool{
		words: true, "four blu\u0308 cans": true, // the same letter, typed as two
		"four blü can": false, "Four blü cans": false, "": false, strings.Repeat("x", 5000): false,
	} {
		if p.Matches(try) != want {
			t.Errorf("%.20q: %v", try, !want)
		}
	}
	if err := SetPassphrase(home, words); err != nil {
		t.Fatal(err)
	}
	if again, err := ReadPassphrase(home); err != nil || again.Same(p) {
		t.Error("the same words twice have the same salt", err)
	}
	if left, _ := filepath.Glob(filepath.Join(home, ".*")); len(left) > 0 {
		t.Error(left)
	}
	if was, err := RemovePassphrase(home); !was || err != nil {
		t.Error(was, err)
	}
	if was, err := RemovePassphrase(home); was || err != nil {
		t.Error(was, err)
	}
}

func TestPassphrasesThatAreRefused(t *testing.T) {
	home := t.TempDir()
	for _, bad := range []string{"", "nine char", "ü23456789", strings.Repeat("long ", 101) + "x", "ten\tchars with a tab", " begins with a space", "not \xff text at all"} {
		var usage *UsageError
		if err := SetPassphrase(home, bad); !errors.As(err, &usage) || usage.Hint == "" {
			t.Errorf("%.20q: %v", bad, err)
		}
	}
	for _, bad := range []string{"", "md5 1 aa bb\n", "pbkdf2-sha256 0 aa bb\n", "pbkdf2-sha256 999999999 aa " + strings.Repeat("ab", 32) + "\n", "pbkdf2-sha256 5 zz " + strings.Repeat("ab", 32) + "\n", "pbkdf2-sha256 5 aa ab\n"} {
		if err := os.WriteFile(filepath.Join(home, PassphraseFile), []byte(bad), 0o600); err != nil {
			t.Fatal(err)
		}
		if p, err := ReadPassphrase(home); err == nil || p != nil {
			t.Errorf("%q is read as a passphrase", bad)
		}
	}
}

// Vectors of PBKDF2 with HMAC-SHA-256 from RFC 7914, 11.
func TestTheDigestIsTheStandardsOne(t *testing.T) {
	home := t.TempDir()
	for _, v := range []struct {
		turns            int
		words, salt, key string
	}{
		{1, "passwd", "73616c74", "55ac046e56e3089fec1691c22544b605f94185216dde0465e68b9d57c20dacbc"},
		{80000, "Password", "4e61436c", "4ddcd8f60b98be21830cee5ef22701f9641a4418d04c0414aeff08876b34ab56"},
	} {
		line := strings.Join([]string{"pbkdf2-sha256", map[int]string{1: "1", 80000: "80000"}[v.turns], v.salt, v.key}, " ") + "\n"
		if err := os.WriteFile(filepath.Join(home, PassphraseFile), []byte(line), 0o600); err != nil {
			t.Fatal(err)
		}
		p, err := ReadPassphrase(home)
		if err != nil || !p.Matches(v.words) || p.Matches(v.words+"x") {
			t.Errorf("%d turns: %v", v.turns, err)
		}
	}
}
