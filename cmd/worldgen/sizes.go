package main

import (
	"embed"
	"fmt"
	"strconv"
)

// sizesFS holds the makes and sizes that a world is built from.
//
//go:embed sizes.csv
var sizesFS embed.FS

// sizes are the steps in which a world's parts differ. Lengths are in
// hundredths of a millimetre.
type sizes struct {
	makes, chemistries                []string
	flanges, ratings, rings           []int
	caps, hoses                       []int
	clearance, section                int
	grooveDepth, grooveWidth, ringGap int
	spread                            int // of log failure rates, in hundredths
}

func readSizes() (*sizes, error) {
	rows, err := readTable(sizesFS, "sizes.csv")
	if err != nil {
		return nil, err
	}
	var s sizes
	lists := map[string]*[]int{"flange": &s.flanges, "rating": &s.ratings, "ring": &s.rings, "cap": &s.caps, "hose": &s.hoses}
	texts := map[string]*[]string{"make": &s.makes, "chemistry": &s.chemistries}
	single := map[string]*int{
		"clearance": &s.clearance, "section": &s.section, "groove_depth": &s.grooveDepth,
		"groove_width": &s.grooveWidth, "groove_slack": &s.ringGap, "spread": &s.spread,
	}
	for i, r := range rows {
		kind := r["kind"]
		if list := texts[kind]; list != nil {
			*list = append(*list, r["value"])
			continue
		}
		v, err := strconv.Atoi(r["value"])
		if err != nil {
			return nil, fmt.Errorf("sizes.csv, line %d: %q is not a whole number", i+2, r["value"])
		}
		switch {
		case lists[kind] != nil:
			*lists[kind] = append(*lists[kind], v)
		case single[kind] != nil:
			*single[kind] = v
		default:
			return nil, fmt.Errorf("sizes.csv, line %d: there is no size %q", i+2, kind)
		}
	}
	return &s, nil
}
