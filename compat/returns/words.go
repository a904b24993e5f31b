package returns

// Word is the verdict on one supplier against the rest.
type Word string

// The words, from bad to good.
const (
	Worse         Word = "worse"
	LeaningWorse  Word = "leaning worse"
	NotTold       Word = "cannot be told apart"
	LeaningBetter Word = "leaning better"
	Better        Word = "better"
	NotComparable Word = "not comparable"
)

// Call words the probability p that a supplier is worse than the rest: worse
// from s.CallAt, leaning worse from s.LeanAt, and the same below 1 − p.
func (s Settings) Call(p float64) Word {
	switch {
	case p >= s.CallAt:
		return Worse
	case p >= s.LeanAt:
		return LeaningWorse
	case 1-p >= s.CallAt:
		return Better
	case 1-p >= s.LeanAt:
		return LeaningBetter
	}
	return NotTold
}
