package sqlite

import (
	"encoding/json"
	"strconv"
)

// inList is the condition that a value is in a list, which is the argument that
// list makes: so the text of a query is the same however long the list is, and
// nothing a user typed gets into it.
const inList = " IN (SELECT value FROM json_each(?))"

// list writes numbers or texts as the argument of inList.
func list[T int64 | string](values []T) string {
	if len(values) == 0 {
		return "[]"
	}
	if numbers, ok := any(values).([]int64); ok {
		text := []byte{'['}
		for _, n := range numbers {
			text = append(strconv.AppendInt(text, n, 10), ',')
		}
		text[len(text)-1] = ']'
		return string(text)
	}
	text, err := json.Marshal(values)
	if err != nil {
		panic(err) // texts can be written
	}
	return string(text)
}
