package cli

import (
	"slices"
	"strings"

	"github.com/spf13/cobra"
)

// command is one command by its name. To build it takes as long as a small answer,
// so of a command line that names one only that one is built.
type command struct {
	name string
	make func(*env) *cobra.Command
}

// commands are all of them, in the order of their use.
func commands() []command {
	return []command{
		{"import", newImport},
		{"inspect", newInspect},
		{"held", newHeld},
		{"sheets", newSheets},
		{"find", newFind},
		{"vin", newVIN},
		{"checks", newChecks},
		{"fit", newFit},
		{"mix", newMix},
		{"flush", newFlush},
		{"suppliers", newSuppliers},
		{"fill", newFill},
		{"vehicle", newVehicle},
		{"fitted", newFitted},
		{"comeback", newComeback},
		{"job", newJob},
		{"serve", newServe},
		{"passphrase", newPassphrase},
		{"backup", newBackup},
		{"restore", newRestore},
		{"doctor", newDoctor},
		{"demo", newDemo},
		{"version", newVersion},
	}
}

// named returns the command that a command line surely names: its first word, or
// the first behind flags that every command has. It is empty where that is none, or
// where it takes the whole program to say what is wrong.
func named(args []string) string {
	for len(args) > 0 {
		switch flag, _, whole := strings.Cut(args[0], "="); {
		case flag == "--json":
			args = args[1:]
		case (flag == "--home" || flag == "--units") && whole:
			args = args[1:]
		case (flag == "--home" || flag == "--units") && len(args) > 1:
			args = args[2:]
		case slices.ContainsFunc(commands(), func(c command) bool { return c.name == args[0] }):
			return args[0]
		default:
			return ""
		}
	}
	return ""
}
