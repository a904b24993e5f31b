package importers

import (
	"errors"
	"fmt"
	"io"
	"os"
	"strings"
	"testing"
)

// Texts that no longer go into memory are found again in the file, which is gone
// afterwards.
func TestSharedTextsBeyondTheMemoryForThem(t *testing.T) {
	dir := t.TempDir()
	t.Setenv("TMPDIR", dir)
	const n = 30_000
	text := func(i int) string { return fmt.Sprintf("%d %s", i, strings.Repeat("x", i%2000)) }
	r, w := io.Pipe()
	go func() {
		_, err := io.WriteString(w, "<sst>")
		for i := range n {
			_, err2 := fmt.Fprintf(w, "<si><t>%s</t></si>", text(i))
			err = errors.Join(err, err2)
		}
		_, err2 := io.WriteString(w, "</sst>")
		w.CloseWithError(errors.Join(err, err2))
	}()
	var shared sharedTexts
	if err := shared.read(r); err != nil {
		t.Fatal(err)
	}
	if shared.file == nil || len(shared.head) > sharedHead || len(shared.ends) != n {
		t.Fatalf("%d texts, %d bytes in memory, file %v", len(shared.ends), len(shared.head), shared.file)
	}
	for k := range n {
		i := k * 7919 % n
		if got, ok, err := shared.append(nil, int64(i)); string(got) != text(i) || !ok || err != nil {
			t.Fatalf("text %d: %q, %v", i, got, err)
		}
	}
	for _, i := range []int64{-1, n} {
		if _, ok, err := shared.append(nil, i); ok || err != nil {
			t.Errorf("text %d: %v, %v", i, ok, err)
		}
	}
	if err := shared.close(); err != nil {
		t.Fatal(err)
	}
	if left, err := os.ReadDir(dir); err != nil || len(left) > 0 {
		t.Errorf("left behind: %v, %v", left, err)
	}
}
