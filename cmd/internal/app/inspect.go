package app

import (
	"fmt"

	"fitfill/data"
	"fitfill/importers"
)

// Inspection is what reading a sheet alone says of it, without any catalogue
// and with every suggestion accepted.
type Inspection = importers.Inspection

// Inspect reads a sheet as it would be read at an import, and no further.
func Inspect(name string, raw []byte, settings map[string]string) (Inspection, error) {
	ref, err := data.Reference()
	if err != nil {
		return Inspection{}, fmt.Errorf("the reference tables of this program are damaged: %w", err)
	}
	return importers.Inspect(ref, name, raw, settings)
}
