package cli

import (
	"bytes"
	"context"
	"encoding/json"
	"io"
	"net/http"
	"strings"
	"testing"
	"time"
)

func TestServeListensToThisMachineOnly(t *testing.T) {
	for _, address := range []string{"0.0.0.0:8017", ":8017", "192.0.2.7:8017", "example.org:80", "8017"} {
		var out, err bytes.Buffer
		code := Run(t.Context(), []string{"--home", t.TempDir(), "serve", "--listen", address}, Streams{Out: &out, Err: &err})
		if code != exitUsage || !strings.Contains(err.String(), "--listen") {
			t.Errorf("--listen %s: exit %d, %s", address, code, err.String())
		}
	}
}

// The demo is served until it is told to stop, and stops without an error.
func TestDemoServesUntilStopped(t *testing.T) {
	ctx, stop := context.WithCancel(t.Context())
	defer stop()
	read, write := io.Pipe()
	done := make(chan int, 1)
	go func() {
		done <- Run(ctx, []string{"--home", t.TempDir(), "demo", "--serve", "--listen", "localhost:0", "--json"}, Streams{Out: write, Err: io.Discard})
		write.Close()
	}()
	var said struct{ Address string }
	if err := json.NewDecoder(read).Decode(&said); err != nil {
		t.Fatal(err)
	}
	go io.Copy(io.Discard, read)
	res, err := http.Get(said.Address + "counter.json?q=QM-1038")
	if err != nil {
		t.Fatal(err)
	}
	defer res.Body.Close()
	var found struct{ Total int }
	if err := json.NewDecoder(res.Body).Decode(&found); err != nil || found.Total < 1 {
		t.Errorf("QM-1038: %d found (%v)", found.Total, err)
	}
	stop()
	select {
	case code := <-done:
		if code != exitYes {
			t.Errorf("stopped with exit %d", code)
		}
	case <-time.After(20 * time.Second):
		t.Error("it goes on after it was told to stop")
	}
}
