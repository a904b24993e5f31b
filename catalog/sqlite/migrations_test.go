package sqlite

import (
	"fmt"
	"io/fs"
	"path"
	"strings"
	"testing"
)

// A catalogue keeps how many migrations it has had, so a file's number has to be
// its place: two files of one number, or a gap, would run twice or never in a
// catalogue that saw them in another order.
func TestMigrationsAreNumberedWithoutGap(t *testing.T) {
	names, err := fs.Glob(migrations, "migrations/*.sql")
	if err != nil {
		t.Fatal(err)
	}
	for i, name := range names {
		if want := fmt.Sprintf("%04d_", i+1); !strings.HasPrefix(path.Base(name), want) {
			t.Errorf("%s stands at place %d: its number should be %s", path.Base(name), i+1, strings.TrimSuffix(want, "_"))
		}
	}
}
