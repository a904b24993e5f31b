package units_test

import (
	"testing"

	"fitfill/catalog/units"
)

// The notations and their meanings are common practice of application lists.
func TestModelYearNotations(t *testing.T) {
	for text, want := range map[string]string{
		"'92-04": "1992-2004", "92-04": "1992-2004", "’92–’04": "1992-2004", "1992–2004": "1992-2004", "1992 - 2004": "1992-2004", "1992 thru 04": "1992-2004",
		"1992 to 2004": "1992-2004", "from 92 to 04": "1992-2004", "92>04": "1992-2004", "1999-13": "1999-2013", "92/94": "1992-1994", "92-39": "1992-2039", "40-49": "1940-1949",
		"99": "1999", "1999": "1999", "04": "2004", "MY 99": "1999", "my2004": "2004",
		"to 92": "to 1992", "up to 1992": "to 1992", "-92": "to 1992", "until 92": "to 1992", "≤1992": "to 1992",
		"92-": "from 1992", "92 on": "from 1992", "92 onwards": "from 1992", "1992+": "from 1992", "from 92": "from 1992", "92 & up": "from 1992",
		"92 and later": "from 1992", "92-present": "from 1992", "92 to date": "from 1992", "≥ 92": "from 1992",
		"1999-2004.5": "1999-2004.5", "2004.5-07": "2004.5-2007", "2004½-07": "2004.5-2007", "2004.5": "2004.5", "2004-2004.5": "2004-2004.5", "to 2004.5": "to 2004.5",
		"92,93,95": "1992-1993, 1995", "92-94,96": "1992-1994, 1996", "96, 92-94": "1992-1994, 1996", "92-94 and 96": "1992-1994, 1996", "92-94; 95 on": "from 1992",
		"from 03/2004": "built from 2004-03", "03.2004-": "built from 2004-03", "3/04-": "built from 2004-03", "2004-03 on": "built from 2004-03", "from 03/04": "built from 2004-03",
		"to 12/99": "built to 1999-12", "bis 12/99": "built to 1999-12", "03/2004-06/2007": "built 2004-03 to 2007-06", "2004-03": "built 2004-03", "03/2004": "built 2004-03",
		"built 03/04": "built 2004-03", "built from 1999-04": "built from 1999-04", "12/92": "built 1992-12",
		"1999-2004, built from 1999-03": "1999-2004, built from 1999-03",
	} {
		m, err := units.ParseModelYears(text)
		if err != nil || m.String() != want {
			t.Errorf("%q: got %q, %v, want %q", text, m, err, want)
		}
	}
	for _, r := range []refusal{
		{"03/04", "", units.ErrAmbiguous, "a month and a year or two years"}, {"1999-04", "", units.ErrAmbiguous, "a month and a year or two years"},
		{">92", "", units.ErrAmbiguous, "from 92 or up to 92"}, {"2011>", "", units.ErrAmbiguous, "from 2011 or up to 2011"}, {"before 92", "", units.ErrAmbiguous, "take it in"},
		{"2004-1992", "", units.ErrUnreadable, "backwards"}, {"06/2007-03/2004", "", units.ErrUnreadable, "backwards"}, {"04.5-04.5", "", units.ErrUnreadable, "backwards"},
		{"from chassis 123456", "", units.ErrSplit, "vehicle's number"}, {"2004 early", "", units.ErrSplit, "vehicle's number"}, {"up to engine no. 4711", "", units.ErrSplit, "vehicle's number"},
		{"2004-03-05", "", units.ErrUnreadable, "does not read as years"}, {"92 on, to 95", "", units.ErrUnreadable, "leaves no year out"}, {"3.04", "", units.ErrUnreadable, ""}, {"1234", "", units.ErrUnreadable, ""},
		{"-92-", "", units.ErrUnreadable, "both ends"}, {"built 2004", "", units.ErrUnreadable, "without its month"}, {"", "", units.ErrUnreadable, "empty"}, {">", "", units.ErrUnreadable, "nowhere"},
		{"03/04-, 06/07-", "", units.ErrUnreadable, "two stretches"}, {"92,,95", "", units.ErrUnreadable, ""}, {"all", "", units.ErrUnreadable, ""}, {"199", "", units.ErrUnreadable, ""},
	} {
		_, err := units.ParseModelYears(r.text)
		checkRefused(t, r, err)
	}
}

func TestSheetsOwnReadingOfArrowsAndPairs(t *testing.T) {
	line, than := units.YearOptions{Arrow: units.ArrowTimeline}, units.YearOptions{Arrow: units.ArrowCompare}
	month, years := units.YearOptions{Pair: units.PairMonthYear}, units.YearOptions{Pair: units.PairYears}
	for _, c := range []struct {
		text string
		o    units.YearOptions
		want string
	}{
		{">92", line, "to 1992"}, {"2011>", line, "from 2011"}, {"92->", line, "from 1992"}, {"<92", line, "to 1992"}, {"03.2004>", line, "built from 2004-03"},
		{">92", than, "from 1992"}, {"92>", than, "to 1992"}, {"<92", than, "to 1992"}, {"→92", line, "to 1992"},
		{"03/04", month, "built 2004-03"}, {"03/04", years, "2003-2004"}, {"1999-04", month, "built 1999-04"}, {"1999-04", years, "1999-2004"},
		{"92/04", month, "1992-2004"}, {"03/92", years, "built 1992-03"},
	} {
		m, err := units.ParseModelYearsWith(c.text, c.o)
		if err != nil || m.String() != c.want {
			t.Errorf("%q with %+v: got %q, %v, want %q", c.text, c.o, m, err, c.want)
		}
	}
}

func TestHalfYearsCoverHalves(t *testing.T) {
	m := parsed(units.ParseModelYears("1999-2004.5"))
	for year, want := range map[int][2]bool{1998: {false, false}, 1999: {true, true}, 2003: {true, true}, 2004: {false, true}, 2005: {false, false}} {
		if whole, part := m.Covers(year); whole != want[0] || part != want[1] {
			t.Errorf("1999-2004.5 covers %d: whole %v, part %v", year, whole, part)
		}
	}
	if got := m.Ranges; len(got) != 1 || got[0] != (units.YearRange{From: 3998, To: 4009}) {
		t.Errorf("1999-2004.5 is %+v", got)
	}
	if b := parsed(units.ParseModelYears("from 03/2004")); len(b.Ranges) != 0 || b.Built != (units.MonthRange{From: 12*2004 + 2}) {
		t.Errorf("a build month became %+v", b)
	}
}

func TestFirstAndLastYearOfARange(t *testing.T) {
	for name, tc := range map[string]struct {
		r           units.YearRange
		first, last int
	}{
		"whole years":        {units.Years(2001, 2004), 2001, 2004},
		"to the half":        {units.YearRange{4002, 4009}, 2001, 2004}, // 2001 to 2004, first half
		"from the half":      {units.YearRange{4003, 4010}, 2001, 2004},
		"no beginning":       {units.YearRange{0, 4010}, 0, 2004},
		"no end":             {units.YearRange{4002, 0}, 2001, 0},
		"nothing was stated": {},
	} {
		if tc.r.First() != tc.first || tc.r.Last() != tc.last {
			t.Errorf("%s: %d to %d, want %d to %d", name, tc.r.First(), tc.r.Last(), tc.first, tc.last)
		}
	}
}
