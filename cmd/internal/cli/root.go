package cli

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"fitfill/cmd/internal/app"
)

// Streams is where a command reads and writes: answers to Out, everything about
// the program itself to Err. In may be nil: nothing can be asked for then.
type Streams struct {
	In       io.Reader
	Out, Err io.Writer
}

// env is what every command shares.
type env struct {
	Streams
	home   string
	asJSON bool
	units  string
	style  style
}

// Run runs the command line and returns the exit code.
func Run(ctx context.Context, args []string, s Streams) int {
	out := &keptError{w: s.Out}
	e := &env{Streams: Streams{In: s.In, Out: out, Err: s.Err}, style: styleFor(s.Out)}
	root := newRoot(e, named(args))
	root.SetArgs(args)
	root.SetOut(out)
	root.SetErr(s.Err)
	code := exitCode(ctx, root.ExecuteContext(ctx), e.asJSON, e.Streams)
	if out.err != nil {
		fmt.Fprintf(s.Err, "fitfill: the answer could not be written whole: %v\n", out.err)
		return exitFailed
	}
	return code
}

// keptError keeps the first error of a writer, so that printing code need not
// look at every call and a full disk is reported all the same.
type keptError struct {
	w   io.Writer
	err error
}

func (k *keptError) Write(p []byte) (int, error) {
	n, err := k.w.Write(p)
	if k.err == nil {
		k.err = err
	}
	return n, err
}

// newRoot returns the program with one of its commands, or with all where only
// names none.
func newRoot(e *env, only string) *cobra.Command {
	root := &cobra.Command{
		Use:   "fitfill",
		Short: "Does this part or fluid belong in this engine?",
		Long: `fitfill reads your suppliers' own sheets and answers whether a part or a
fluid belongs in an engine, with the reasons and the lines they come from.

Try it on an invented garage:  fitfill demo

Settings (in fitfill.toml in the data folder, or as FITFILL_NAME variables):
` + app.SettingHelp(),
		SilenceErrors: true,
		SilenceUsage:  true,
		Args:          knownCommand,
		RunE:          func(cmd *cobra.Command, _ []string) error { return cmd.Help() },
	}
	root.PersistentFlags().StringVar(&e.home, "home", "", "data folder (default: FITFILL_HOME, else the platform's data folder)")
	root.PersistentFlags().BoolVar(&e.asJSON, "json", false, "print the answer as JSON")
	root.PersistentFlags().StringVar(&e.units, "units", "", "show metric or us units")
	root.SetFlagErrorFunc(func(cmd *cobra.Command, err error) error {
		return &app.UsageError{Problem: flagProblem(cmd, err), Hint: "see: " + cmd.CommandPath() + " --help"}
	})
	root.CompletionOptions.DisableDefaultCmd = true
	root.SetHelpCommand(&cobra.Command{
		Use:    "help [command]", // what --help prints, for those who ask for it so
		Hidden: true,
		RunE: func(_ *cobra.Command, args []string) error {
			asked, rest, err := root.Find(args)
			if err != nil || len(rest) > 0 && asked.HasSubCommands() {
				return knownCommand(asked, rest)
			}
			asked.InitDefaultHelpFlag()
			return asked.Help()
		},
	})
	for _, c := range commands() {
		if only == "" || only == c.name {
			root.AddCommand(c.make(e))
		}
	}
	for _, c := range root.Commands() {
		usageArgs(c)
	}
	return root
}

// knownCommand refuses what is no command, with the nearest one.
func knownCommand(cmd *cobra.Command, args []string) error {
	if len(args) == 0 {
		return nil
	}
	var names []string
	for _, c := range cmd.Commands() {
		if !c.Hidden {
			names = append(names, c.Name())
		}
	}
	hint := "the commands are " + strings.Join(names, ", ")
	if near := app.Nearest(args[0], names); near != "" {
		hint = "the nearest is: " + cmd.CommandPath() + " " + near
	}
	return &app.UsageError{Problem: "there is no command " + args[0], Hint: hint}
}

// usageArgs makes cobra's own complaints about arguments usage errors with a
// way on.
func usageArgs(c *cobra.Command) {
	check := c.Args
	if check == nil {
		check = cobra.NoArgs
	}
	c.Args = func(cmd *cobra.Command, args []string) error {
		var usage *app.UsageError
		if err := check(cmd, args); errors.As(err, &usage) {
			return err
		} else if err != nil {
			return &app.UsageError{Problem: err.Error(), Hint: "usage: " + cmd.UseLine()}
		}
		return nil
	}
	for _, sub := range c.Commands() {
		usageArgs(sub)
	}
}

// flagProblem names the nearest flag where one was misspelt.
func flagProblem(cmd *cobra.Command, err error) string {
	name, ok := strings.CutPrefix(err.Error(), "unknown flag: --")
	if !ok {
		return err.Error()
	}
	var names []string
	cmd.Flags().VisitAll(func(f *pflag.Flag) { names = append(names, f.Name) })
	begins := slices.IndexFunc(names, func(n string) bool { return len(name) > 2 && strings.HasPrefix(n, name) })
	if near := app.Nearest(name, names); near == "" && begins >= 0 {
		return fmt.Sprintf("there is no flag --%s; the nearest is --%s", name, names[begins])
	} else if near != "" {
		return fmt.Sprintf("there is no flag --%s; the nearest is --%s", name, near)
	}
	return "there is no flag --" + name
}

// dataFolder returns the data folder that the flags and the environment name.
func (e *env) dataFolder() (string, error) {
	if e.home != "" {
		return e.home, nil
	}
	if home := os.Getenv(app.EnvPrefix + "_HOME"); home != "" {
		return home, nil
	}
	return app.DefaultHome()
}

// shop opens the garage in the data folder. overrides are the settings that
// the command's own flags give.
func (e *env) shop(overrides map[string]string) (*app.Shop, error) {
	home, err := e.dataFolder()
	if err != nil {
		return nil, err
	}
	all := map[string]string{}
	if e.units != "" {
		all["units"] = e.units
	}
	for name, value := range overrides {
		if value != "" {
			all[name] = value
		}
	}
	return app.Open(home, all)
}

// with opens the shop, runs do and closes the shop again.
func (e *env) with(overrides map[string]string, do func(*app.Shop) error) error {
	shop, err := e.shop(overrides)
	if err != nil {
		return err
	}
	if shop.OwnProblem != "" {
		fmt.Fprint(e.Err, wrap("fitfill: ", 2, shop.OwnProblem+". See: fitfill sheets tables"))
	}
	return errors.Join(do(shop), shop.Close())
}
