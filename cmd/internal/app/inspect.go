package app

import (
	"fmt"
	"os"

	"fitfill/data"
	"fitfill/importers"
)

// Inspection is what reading a sheet alone says of it, without any catalogue
// and with every suggestion accepted.
type Inspection = importers.Inspection

// Inspect reads a sheet as it would be read at an import, and no further. Large
// texts lie in the system's folder for temporary files until the inspection is
// closed.
func Inspect(name string, f importers.File, settings map[string]string) (Inspection, error) {
	ref, err := data.Reference()
	if err != nil {
		return Inspection{}, fmt.Errorf("the reference tables of this program are damaged: %w", err)
	}
	scratch := func() (importers.ScratchFile, error) { return scratchIn(os.TempDir()) }
	return importers.Inspect(ref, name, f, scratch, settings)
}
