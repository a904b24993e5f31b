package app

import (
	"context"
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
// closed. Unpacking gets the kilobytes of an archive or a workbook that were
// unpacked, and all of them; it may be nil.
func Inspect(ctx context.Context, name string, f importers.File, settings map[string]string, unpacking func(done, all int)) (in Inspection, err error) {
	ref, err := data.Reference()
	if err != nil {
		return Inspection{}, fmt.Errorf("the reference tables of this program are damaged: %w", err)
	}
	defer whileReading(f)()
	scratch := func() (importers.ScratchFile, error) { return scratchIn(os.TempDir()) }
	err = watched(ctx, f, unpacking, func(f importers.File) error {
		in, err = importers.Inspect(ref, name, f, scratch, settings)
		return err
	})
	return in, err
}
