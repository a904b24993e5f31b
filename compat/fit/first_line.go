package fit

import (
	"strings"
	"unicode/utf8"

	"fitfill/compat"
)

// firstLineLength is how many characters a counter reads at a glance.
const firstLineLength = 60

const elsewhereOnly = "cannot say: listed for other years or engines only"

// firstLine says the verdict and how it is known.
func firstLine(outcome compat.Outcome, results []result, lists tally, measured int) string {
	short := func(roles ...role) string {
		for _, want := range roles {
			for _, r := range results {
				if r.role == want && r.short != "" {
					return r.short
				}
			}
		}
		return ""
	}
	switch outcome {
	case compat.Yes:
		how := ", not measured"
		if measured > 0 {
			how = " and measured"
		}
		for _, r := range results {
			if r.Check == setCheck && r.role == note && strings.HasPrefix(r.short, "on ") {
				how += "; " + r.short
			}
		}
		if has(results, stays) {
			how += "; stayed here"
		}
		return cut("fits: " + counted(lists.met, "list") + how)
	case compat.No:
		if s := short(excluded, fails, against); s != "" {
			return cut("does not fit: " + s)
		}
		return cut("faulty: " + short(faulty))
	case compat.Caution:
		if s := short(doubt); s != "" && (lists.met > 0 || lists.open > 0) {
			return cut("should fit: " + s)
		}
		if s := short(unsettled); s != "" {
			return cut("should fit: " + s)
		}
		if has(results, linked) {
			if s := short(doubt); s != "" {
				how := crossReferenceOnly
				if short(linked) == supersessionOnly {
					how = supersessionOnly
				}
				return cut(how + ": " + s)
			}
			return cut("should fit: " + short(linked))
		}
		if s := short(stays); s != "" {
			if d := short(doubt); d != "" {
				s += ": " + d
			}
			return cut("should fit: " + s)
		}
		how := "could fit, not listed: "
		if has(results, elsewhere) {
			how = "could fit, listed for others only: "
		}
		if s := short(doubt); s != "" {
			return cut(how + s)
		}
		return how + "the sizes agree"
	}
	if has(results, elsewhere) {
		return elsewhereOnly
	}
	if s := short(doubt); s != "" {
		return cut("cannot say: not listed; " + s)
	}
	return "cannot say: not listed, no size to compare"
}

// cut shortens a line to what is read at a glance, at a word.
func cut(s string) string {
	if utf8.RuneCountInString(s) <= firstLineLength {
		return s
	}
	r := []rune(s)[:firstLineLength-1]
	if i := strings.LastIndexByte(string(r), ' '); i > firstLineLength/2 {
		r = []rune(string(r)[:i])
	}
	return strings.TrimRight(string(r), " ,;:") + "…"
}
