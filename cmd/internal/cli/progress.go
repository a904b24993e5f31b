package cli

import (
	"fmt"
	"io"
	"os"
	"strings"
	"time"

	"golang.org/x/term"
)

// Work that ends sooner than this shows no progress.
const quietFor = time.Second

// progress returns a function that draws a bar on a terminal; nil where w is
// none, so that logs and pipes stay clean. What is counted is named.
func progress(w io.Writer, what string) func(done, all int) {
	f, ok := w.(*os.File)
	if !ok || !term.IsTerminal(int(f.Fd())) {
		return nil
	}
	return bar(w, what, time.Now)
}

func bar(w io.Writer, what string, now func() time.Time) func(done, all int) {
	begin := now()
	const width = 30
	return func(done, all int) {
		took := now().Sub(begin)
		if took < quietFor || all == 0 {
			return
		}
		full := min(width*done/all, width)
		left := time.Duration(float64(took) / float64(max(done, 1)) * float64(all-done)).Round(time.Second)
		fmt.Fprintf(w, "\r  [%s%s] %d of %d %s, %s left ", strings.Repeat("=", full), strings.Repeat(" ", width-full), done, all, what, left)
		if done >= all {
			fmt.Fprint(w, "\r"+strings.Repeat(" ", textWidth)+"\r")
		}
	}
}
