package catalog

// How an answer came to count as said.
const (
	SaidAsked     = "asked"     // asked for with the vehicle named
	SaidListed    = "listed"    // put on the list of a job
	SaidConfirmed = "confirmed" // confirmed by a person
)

// Said is what this program answered about a part or a fluid for one vehicle.
type Said struct {
	At       string // RFC 3339
	Date     Date
	How      string
	Vehicle  string
	Question string // as a command
	Number   string
	Supplier string
	Outcome  string // yes, caution, no, cannot-say
	First    string // first line of the answer
	Listing  Origin // the line of a list that it rests on; the zero Origin: on none
}
