package importers

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"
)

// sizeLimits bound what one file may make this program do. Whatever they stop
// is counted on the bytes that were really produced, never on what a file says
// about itself.
type sizeLimits struct{ file, unpacked, ratio, entries, line, field, columns, rows, minutes int64 }

// sizeSettings are the limits by the setting that changes them.
var sizeSettings = []struct {
	name  string
	usual int64
	says  string
	of    func(*sizeLimits) *int64
}{
	{"limit-file", 256 << 20, "bytes that a file may have", func(l *sizeLimits) *int64 { return &l.file }},
	{"limit-unpacked", 1 << 30, "bytes that may come out of an archive", func(l *sizeLimits) *int64 { return &l.unpacked }},
	{"limit-ratio", 200, "bytes that may come out of one byte of an archive, once it made 1 MiB", func(l *sizeLimits) *int64 { return &l.ratio }},
	{"limit-entries", 100, "files that a zip archive may hold", func(l *sizeLimits) *int64 { return &l.entries }},
	{"limit-line", 2 << 20, "bytes that a line may have; a longer one is held with its beginning", func(l *sizeLimits) *int64 { return &l.line }},
	{"limit-field", 64 << 10, "bytes that a cell may have; a row with a longer one is held", func(l *sizeLimits) *int64 { return &l.field }},
	{"limit-columns", 1000, "cells that a row may have; a longer row is held, a longer heading refused", func(l *sizeLimits) *int64 { return &l.columns }},
	{"limit-rows", 5_000_000, "lines that a sheet may have", func(l *sizeLimits) *int64 { return &l.rows }},
	{"limit-minutes", 10, "minutes that reading the rows may take", func(l *sizeLimits) *int64 { return &l.minutes }},
}

func usualLimits() (l sizeLimits) {
	for _, s := range sizeSettings {
		*s.of(&l) = s.usual
	}
	return l
}

// limits returns the limits that the settings make; they were checked before.
func (s Settings) limits() sizeLimits {
	l := usualLimits()
	for _, size := range sizeSettings {
		if n, ok := parseSize(s[size.name]); ok {
			*size.of(&l) = n
		}
	}
	return l
}

// parseSize reads a whole number, with KiB, MiB or GiB behind it if it likes.
func parseSize(text string) (int64, bool) {
	shift := 0
	for unit, bits := range map[string]int{"KiB": 10, "MiB": 20, "GiB": 30} {
		if rest, ok := strings.CutSuffix(text, unit); ok {
			text, shift = strings.TrimSpace(rest), bits
		}
	}
	n, err := strconv.ParseInt(text, 10, 32)
	if err != nil || n < 1 || n > math.MaxUint32>>shift {
		return 0, false
	}
	return n << shift, true
}

// sizeText says a number of bytes the way a person says it.
func sizeText(n int64) string {
	for _, u := range []struct {
		bits int
		name string
	}{{30, "GiB"}, {20, "MiB"}, {10, "KiB"}} {
		if n >= 1<<u.bits && n%(1<<u.bits) == 0 {
			return fmt.Sprintf("%d %s", n>>u.bits, u.name)
		}
	}
	return fmt.Sprintf("%d bytes", n)
}

// SizeSetting is a limit that a setting changes.
type SizeSetting struct{ Name, Usual, Says string }

// SizeSettings lists the limits with what they are without a setting, and what
// they bound.
func SizeSettings() []SizeSetting {
	list := make([]SizeSetting, len(sizeSettings))
	for i, s := range sizeSettings {
		usual := strconv.FormatInt(s.usual, 10)
		if strings.HasPrefix(s.says, "bytes") && s.usual > 1<<10 {
			usual = strings.ReplaceAll(sizeText(s.usual), " ", "")
		}
		list[i] = SizeSetting{s.name, usual, s.says}
	}
	return list
}

// TimeLimit is how long reading the rows of the sheet may take.
func (s *Sheet) TimeLimit() time.Duration { return time.Duration(s.sizes.minutes) * time.Minute }
