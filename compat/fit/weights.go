package fit

import (
	"fmt"

	"fitfill/catalog"
)

// The keys that table fit_evidence_weights must hold.
const (
	weightListing   = "listing"
	weightUnsettled = "unsettled"
	weightCrossOne  = "cross_one"
	weightCrossTwo  = "cross_two"
	weightSizesSome = "sizes_some"
	weightSizesAll  = "sizes_all"
	weightAgainst   = "against"
	weightDoubt     = "doubt"
	weightOldPart   = "old_part"
	weightFitted    = "fitted"
	weightCameBack  = "came_back"
)

// newWeights reads how much each kind of evidence counts. Weights put
// candidates of one outcome in order and never make an outcome.
func newWeights(ref catalog.Tables) (map[string]float64, error) {
	rows, err := ref.Table("fit_evidence_weights")
	if err != nil {
		return nil, err
	}
	w := map[string]float64{}
	for _, row := range rows {
		v, err := row.Float("weight")
		if err != nil {
			return nil, err
		}
		w[row.Get("key")] = v
	}
	for _, k := range []string{weightListing, weightUnsettled, weightCrossOne, weightCrossTwo, weightSizesSome, weightSizesAll, weightAgainst, weightDoubt, weightOldPart, weightFitted, weightCameBack} {
		if _, ok := w[k]; !ok {
			return nil, fmt.Errorf("table fit_evidence_weights: the row %q is missing", k)
		}
	}
	return w, nil
}
