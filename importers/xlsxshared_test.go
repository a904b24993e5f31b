package importers

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"strings"
	"testing"
)

// scratchInMemory is a scratch file that tells whether it was closed.
type scratchInMemory struct {
	bytes.Buffer
	closed bool
}

func (s *scratchInMemory) ReadAt(b []byte, off int64) (int, error) {
	return bytes.NewReader(s.Bytes()).ReadAt(b, off)
}

func (s *scratchInMemory) Close() error {
	s.closed = true
	return nil
}

// Texts that no longer go into memory are found again in the file, which is
// closed in the end.
func TestSharedTextsBeyondTheMemoryForThem(t *testing.T) {
	var file scratchInMemory
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
	shared := sharedTexts{scratch: func() (ScratchFile, error) { return &file, nil }}
	if err := shared.read(r); err != nil {
		t.Fatal(err)
	}
	if shared.file == nil || len(shared.head) > sharedHead || shared.n != n {
		t.Fatalf("%d texts, %d bytes in memory, file %v", shared.n, len(shared.head), shared.file)
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
	if !file.closed {
		t.Error("the file was left open")
	}
}
