package catalog

// NoteMeans says what a garage takes a note of a supplier's list to mean.
type NoteMeans string

// The meanings of a note.
const (
	NoteHarmless NoteMeans = "harmless" // it conditions nothing
	NoteOnly     NoteMeans = "only"     // its rows are only for what the answer's words name
	NoteExcept   NoteMeans = "except"   // its rows are not for what the answer's words name
)

// NoteAnswer is what a garage answered about one text of one supplier. It
// settles every row of that supplier that carries the text, now and in later
// lists.
type NoteAnswer struct {
	Supplier string
	Note     string // the text as it was answered
	Means    NoteMeans
	Words    string // what it is only for, or not for; empty where harmless
	Day      string // YYYY-MM-DD
}
