package sqlite

import (
	"database/sql/driver"
	"encoding/json"
	"slices"
	"strings"
	"sync"

	"modernc.org/sqlite"

	"fitfill/catalog"
)

// tradeKey makes catalog.Key callable in statements, under the name trade_key,
// and namesIn as trade_keys. The driver keeps functions for the whole process.
var tradeKey = sync.OnceValue(func() error {
	err := sqlite.RegisterDeterministicScalarFunction("trade_key", 1, func(_ *sqlite.FunctionContext, args []driver.Value) (driver.Value, error) {
		text, _ := args[0].(string)
		return catalog.Key(text), nil
	})
	if err != nil {
		return err
	}
	return sqlite.RegisterDeterministicScalarFunction("trade_keys", 1, func(_ *sqlite.FunctionContext, args []driver.Value) (driver.Value, error) {
		text, _ := args[0].(string)
		keys, err := json.Marshal(namesIn(text))
		return string(keys), err
	})
})

// namesIn returns the folded names in a cell that may hold several: the cell as
// a whole and its stretches between the signs that part names, with commas among
// them and without, since a name may have one in it.
func namesIn(text string) []string {
	keys := []string{}
	for _, apart := range []string{"", ";|", ",;|"} {
		for _, name := range strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune(apart, r) }) {
			if key := catalog.Key(name); key != "" && !slices.Contains(keys, key) {
				keys = append(keys, key)
			}
		}
	}
	return keys
}
