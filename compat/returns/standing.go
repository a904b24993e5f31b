package returns

// Standing is one supplier against the others.
type Standing struct {
	Supplier int
	Compared bool // false: nothing of it was ever under watch; the rest is empty

	Observed float64   // quality failures within the score horizon
	Expected float64   // had its pieces failed like everybody's of the same type and age
	Ratio    *Interval // Observed/Expected with exact Poisson limits; nil where nothing was expected

	Relative      *Interval // failure rate against the geometric mean of the suppliers compared; nil without a second one
	WorseThanRest float64   // probability, 0.5 = nothing known
	CommonGround  float64   // 0..1: how much of what could be known about it against the rest is known

	ExpectedRank float64 // 1 = fewest failures; 0 where nobody is ranked
	Group        string  // letters; suppliers with a common letter cannot be told apart
	Word         Word
	// TooNew says that too few pieces were watched long enough for Word to be
	// better: that parts hold takes time to see.
	TooNew bool
	// DependsOnSpread says that Word would change with the narrower or the
	// wider assumption on how far suppliers differ: WordNarrow and WordWide.
	DependsOnSpread      bool
	WordNarrow, WordWide Word

	Second SecondLook
}

// Pair is the comparison of two suppliers.
type Pair struct {
	A, B         int     // A < B
	AWorse       float64 // probability that A's parts fail more often; B's is 1 − AWorse
	CommonGround float64 // 0..1; 0 = no part type with a failure was bought from both
	Comparable   bool    // common ground reaches the setting; if not, do not show AWorse
}

// Comparison is the score of all suppliers.
type Comparison struct {
	Standings    []Standing // by supplier
	Pairs        []Pair     // of the suppliers compared, by A, then B
	Ranked       bool
	Why          string // why nobody is ranked
	Failures     float64
	Global       GlobalTest
	DesignEffect float64   // pieces failing together on one sale line, 1 = never
	Divided      bool      // counts were divided by DesignEffect
	Table        Table     // of the suppliers compared, undivided
	Compared     []int     // supplier of each column of Table and Posterior
	Posterior    Posterior // of the log relative rates; empty without a second supplier

	units  []Unit  // behind Table
	design float64 // by which counts were divided
}
