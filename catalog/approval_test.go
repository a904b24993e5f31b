package catalog_test

import (
	"slices"
	"testing"

	"fitfill/catalog"
)

func TestApprovalsAreReadWithTheirStanding(t *testing.T) {
	of := func(key, name string, as catalog.Standing) catalog.Approval {
		return catalog.Approval{Key: key, Name: name, As: as}
	}
	for text, want := range map[string][]catalog.Approval{
		"":                         nil,
		"approved:":                nil,
		"QX 100-A":                 {of("QX100A", "QX 100-A", catalog.Recommended)},
		"QX 100-A approved":        {of("QX100A", "QX 100-A", catalog.Approved)},
		"approved: QX 1; meets 2X": {of("QX1", "QX 1", catalog.Approved), of("2X", "2X", catalog.Meets)},
		"suitable for QX 1 or QX 2": {
			of("QX1", "QX 1", catalog.Recommended), of("QX2", "QX 2", catalog.Recommended),
		},
		"not approved: QX 1": {of("NOTQX1", "not QX 1", catalog.Approved)},
	} {
		if got := catalog.ReadApprovals(text); !slices.Equal(got, want) {
			t.Errorf("%q: %+v, want %+v", text, got, want)
		}
	}
}
