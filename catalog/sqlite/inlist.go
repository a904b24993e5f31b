package sqlite

import "encoding/json"

// inList is the condition that a value is in a list, which is the argument that
// list makes: so the text of a query is the same however long the list is, and
// nothing a user typed gets into it.
const inList = " IN (SELECT value FROM json_each(?))"

// list writes numbers or texts as the argument of inList.
func list[T int64 | string](values []T) string {
	if len(values) == 0 {
		return "[]"
	}
	text, err := json.Marshal(values)
	if err != nil {
		panic(err) // numbers and texts can be written
	}
	return string(text)
}
