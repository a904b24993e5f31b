package cli

import (
	"bytes"
	"context"
	"os"
	"strings"
	"testing"
)

// The time of a whole command in the process, from opening the data folder to
// closing it; what the process needs to start comes on top. With FITFILL_BENCH
// naming a data folder and FITFILL_BENCH_ASK a command, the same for that one.
func BenchmarkCommand(b *testing.B) {
	asks := map[string]string{
		"fit one type": "fit TKV38 --type thermostat", "fit one part": "fit TKV38 --part OS1954", "fit every type": "fit VSR18", "find": "find QM-1062",
	}
	home := loadedDemo
	if dir := os.Getenv("FITFILL_BENCH"); dir != "" {
		home, asks = dir, map[string]string{"asked": os.Getenv("FITFILL_BENCH_ASK")}
	}
	for name, ask := range asks {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				var out bytes.Buffer
				if code := Run(context.Background(), append([]string{"--home", home}, strings.Fields(ask)...), Streams{Out: &out, Err: &out}); code == exitFailed || code == exitUsage {
					b.Fatal(out.String())
				}
			}
		})
	}
}
