package web

import (
	"net"
	"slices"
	"testing"
)

func TestHostsAreTheNamesThatABrowserSends(t *testing.T) {
	for listen, want := range map[string][]string{
		"127.0.0.1:8017": {"localhost:8017", "127.0.0.1:8017", "[::1]:8017"},
		"[::1]:8017":     {"localhost:8017", "127.0.0.1:8017", "[::1]:8017"},
		"127.0.0.2:8017": {"127.0.0.2:8017", "localhost:8017", "127.0.0.1:8017", "[::1]:8017"},
		"127.0.0.1:80":   {"localhost:80", "127.0.0.1:80", "[::1]:80", "localhost", "127.0.0.1", "[::1]"},
	} {
		a, err := net.ResolveTCPAddr("tcp", listen)
		if err != nil {
			t.Fatal(err)
		}
		if got := hostsOf(a); !slices.Equal(got, want) {
			t.Errorf("%s: %v, want %v", listen, got, want)
		}
	}
}

// Every embedded file has its content type, whatever the system calls it.
func TestEmbeddedFilesHaveTheirTypes(t *testing.T) {
	files, err := loadFiles()
	if err != nil {
		t.Fatal(err)
	}
	server := serveDemo(t)
	for name := range files.name {
		if got := get(t, server, files.at(name)).header.Get("Content-Type"); got == "" || contentTypes["."+name[len("fitfill."):]] != got {
			t.Errorf("%s is sent as %q", name, got)
		}
	}
}
