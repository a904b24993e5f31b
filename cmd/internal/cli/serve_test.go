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

func TestServeListensToThisMachineOnlyUntilAPassphraseIsSet(t *testing.T) {
	for _, address := range []string{"0.0.0.0:8017", ":8017", "192.0.2.7:8017", "example.org:80", "8017"} {
		var out, err bytes.Buffer
		code := Run(t.Context(), []string{"--home", t.TempDir(), "serve", "--listen", address}, Streams{Out: &out, Err: &err})
		if code != exitUsage || !strings.Contains(err.String(), "--listen") {
			t.Errorf("--listen %s: exit %d, %s", address, code, err.String())
		}
	}
	for _, name := range []string{"parts.example", "http://parts.example", ""} {
		var out, err bytes.Buffer
		code := Run(t.Context(), []string{"--home", t.TempDir(), "serve", "--listen", "localhost:0", "--name", name}, Streams{Out: &out, Err: &err})
		if code != exitUsage || !strings.Contains(err.String(), "--name") {
			t.Errorf("--name %s: exit %d, %s", name, code, err.String())
		}
	}
}

// With a passphrase it stands where other machines reach it, says so, and answers
// to the names that it was given.
func TestServeToOthersUnderAPassphrase(t *testing.T) {
	home := t.TempDir()
	if code, _, errs := typed(t, "four blue cans", "--home", home, "passphrase"); code != exitYes {
		t.Fatal(errs)
	}
	ctx, stop := context.WithCancel(t.Context())
	defer stop()
	read, write := io.Pipe()
	done := make(chan int, 1)
	go func() {
		done <- Run(ctx, []string{"--home", home, "serve", "--listen", "0.0.0.0:0", "--name", "Parts.Example", "--json"}, Streams{Out: write, Err: io.Discard})
		write.Close()
	}()
	var said struct {
		Addresses  []string
		Passphrase bool
		Others     bool `json:"others_reach_it"`
	}
	if err := json.NewDecoder(read).Decode(&said); err != nil || !said.Passphrase || !said.Others || len(said.Addresses) == 0 {
		t.Fatalf("%+v %v", said, err)
	}
	go io.Copy(io.Discard, read)
	local := said.Addresses[len(said.Addresses)-1]
	for host, want := range map[string]int{"": 401, "parts.example": 401, "parts.example:8443": 401, "other.example": 421, "192.0.2.200": 421} {
		r, err := http.NewRequest(http.MethodGet, local+"office.json", nil)
		if err != nil {
			t.Fatal(err)
		}
		r.Host = host
		res, err := http.DefaultClient.Do(r)
		if err != nil {
			t.Fatal(err)
		}
		res.Body.Close()
		if res.StatusCode != want {
			t.Errorf("%q: %d, want %d", host, res.StatusCode, want)
		}
	}
	stop()
	if code := <-done; code != exitYes {
		t.Errorf("stopped with exit %d", code)
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
