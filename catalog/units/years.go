package units

import (
	"cmp"
	"slices"
	"strings"
)

// ParseModelYears reads what a sheet says about years: "'92-04", "1992 thru
// 04", "92,93,95", "1999-2004.5", "to 92", "92 on" as model years (two digits
// from 40 are 19xx, below it 20xx; ".5" opens the second half of a year), and
// "from 03/2004", "03.2004-", "2004-03 on" as months of build. "03/04",
// "1999-04" and ">92" have two readings and are refused with ErrAmbiguous; see
// ParseModelYearsWith. Reversed years are refused, not swapped. A text that
// splits by chassis or engine number, or by "early" and "late", is refused with
// ErrSplit. Errors are *ParseError.
func ParseModelYears(text string) (ModelYears, error) {
	return ParseModelYearsWith(text, YearOptions{})
}

// ParseModelYearsWith is ParseModelYears for a sheet whose arrows or pairs are
// explained by o.
func ParseModelYearsWith(text string, o YearOptions) (ModelYears, error) {
	if m, ok := wholeYears(text); ok {
		return m, nil
	}
	m, perr := readYears(cleanYears(text), o)
	if perr != nil {
		return ModelYears{}, perr.of("years", text)
	}
	return m, nil
}

func readYears(s string, o YearOptions) (ModelYears, *ParseError) {
	switch {
	case s == "":
		return ModelYears{}, unreadable("is empty", "write the years")
	case len(s) > maxText:
		return ModelYears{}, unreadable("is too long for years", "write only the years")
	case splitWords.MatchString(s):
		return ModelYears{}, &ParseError{kind: ErrSplit, Problem: "splits by the vehicle's own number",
			Hint: "state whole model years here, and the split as a condition that needs the vehicle's number"}
	case vagueWords.MatchString(s):
		return ModelYears{}, ambiguous("could leave its year out or take it in", `write "from 1992" or "to 1992"`)
	}
	var m ModelYears
	for _, part := range listMark.Split(protectOn(s), -1) {
		one, perr := readStretch(protectOn(strings.Trim(part, " ")), o)
		if perr != nil {
			return ModelYears{}, perr
		}
		if !one.Built.Open() && !m.Built.Open() {
			return ModelYears{}, unreadable("states two stretches of build months", "write one row for each")
		}
		m.Ranges = append(m.Ranges, one.Ranges...)
		if !one.Built.Open() {
			m.Built = one.Built
		}
	}
	m.Ranges = merged(m.Ranges)
	if len(m.Ranges) == 1 && m.Ranges[0].Open() {
		return ModelYears{}, unreadable("leaves no year out", "leave the cell empty for all years")
	}
	return m, nil
}

// protectOn keeps "& up" and "and later" from being taken for a list.
func protectOn(s string) string {
	if loc := onWord.FindStringIndex(s); loc != nil {
		return s[:loc[0]] + "+"
	}
	return s
}

// readStretch reads one entry of the list.
func readStretch(s string, o YearOptions) (ModelYears, *ParseError) {
	s = s[len(noise.FindString(s)):]
	built := builtWord.FindString(s)
	s = s[len(built):]
	if strings.ContainsAny(s, "<>") {
		var perr *ParseError
		if s, perr = straighten(s, o.Arrow); perr != nil {
			return ModelYears{}, perr
		}
	}
	from, until := fromWord.FindString(s), ""
	s = s[len(from):]
	if from == "" {
		until = untilWord.FindString(s)
		if until == "" && strings.HasPrefix(s, "-") {
			until = "-"
		}
		s = strings.Trim(s[len(until):], " ")
	}
	on := strings.HasSuffix(s, "-") || strings.HasSuffix(s, "+")
	if on {
		s = strings.Trim(s[:len(s)-1], " ")
	}
	if until != "" && on {
		return ModelYears{}, unreadable("is open at both ends", "write one end")
	}
	s = s[len(noise.FindString(s)):]
	end := closed
	switch {
	case until != "":
		end = openStart
	case on || from != "":
		end = openEnd
	}
	return pick(readings(s, end, from != "" && !on), built != "", o.Pair)
}

// straighten turns an arrow into the words that it stands for.
func straighten(s string, sense ArrowSense) (string, *ParseError) {
	i := strings.IndexAny(s, "<>")
	before, after := strings.Trim(s[:i], " "), strings.Trim(s[i+1:], " ")
	switch {
	case before != "" && after != "" && s[i] == '>':
		return before + " - " + after, nil
	case before == "" && after == "" || before != "" && after != "":
		return "", unreadable("has an arrow that points nowhere", `write "from 1992" or "to 1992"`)
	case sense == ArrowRefused:
		year := before + after
		return "", ambiguous("could be from "+year+" or up to "+year, "say once for the sheet how its arrows are read")
	}
	if up := s[i] == '<' || sense == ArrowTimeline; up == (before == "") {
		return "to " + before + after, nil
	}
	return "from " + before + after, nil
}

// merged sorts ranges and joins those that touch.
func merged(ranges []YearRange) []YearRange {
	sorted := slices.Clone(ranges)
	slices.SortFunc(sorted, func(a, b YearRange) int { return cmp.Compare(a.From, b.From) })
	var out []YearRange
	for _, r := range sorted {
		if n := len(out); n > 0 && (out[n-1].To == 0 || r.From <= out[n-1].To) {
			if out[n-1].To != 0 && (r.To == 0 || r.To > out[n-1].To) {
				out[n-1].To = r.To
			}
			continue
		}
		out = append(out, r)
	}
	return out
}
