package catalog

// SearchDoc is what the search index holds of one part.
type SearchDoc struct {
	ID          int64
	Supplier    string
	Number      string
	Key         string
	Type        string
	Description string
	Makes       []string // makes and models
	Engines     []string
	Words       []string // brand, notes, sizes
}
