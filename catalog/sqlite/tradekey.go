package sqlite

import (
	"database/sql/driver"
	"sync"

	"modernc.org/sqlite"

	"fitfill/catalog"
)

// tradeKey makes catalog.Key callable in statements of migrations, under the
// name trade_key. The driver keeps functions for the whole process.
var tradeKey = sync.OnceValue(func() error {
	return sqlite.RegisterDeterministicScalarFunction("trade_key", 1, func(_ *sqlite.FunctionContext, args []driver.Value) (driver.Value, error) {
		text, _ := args[0].(string)
		return catalog.Key(text), nil
	})
})
