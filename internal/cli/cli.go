// Package cli is the command line: one file a command, each of them thin. It
// opens the home folder, hands what it read to the packages that know the rules,
// and prints what they answer.
//
// Contract: data goes to stdout and talk to stderr; every error ends with what to
// do next; foreign text is cleaned before it is printed; the exit status is one
// of those in exit.go. Only this package and the screens read the clock.
//
//	os.Exit(cli.Main(os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
package cli

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"strings"
	"syscall"

	"charm.land/fang/v2"
	"github.com/spf13/cobra"

	"hawser/internal/coachfile"
)

// version is set by the linker in a released build.
var version string //nolint:gochecknoglobals // -ldflags -X can reach nothing else

// Main runs one command line and returns its exit status.
func Main(args []string, in *os.File, out, talk io.Writer) int {
	ends := []os.Signal{os.Interrupt, syscall.SIGTERM, syscall.SIGHUP}
	ctx, stop := signal.NotifyContext(context.Background(), ends...)
	defer stop()
	// Caught for good: a second one, while the program ends, does not cut that short.
	signal.Notify(make(chan os.Signal, 1), ends...)
	if os.Getenv("NO_COLOR") != "" {
		// Set to anything it means no colour; the colour library wants a truth value.
		os.Setenv("NO_COLOR", "1") // a name and a value that are always valid
	}
	s := &shell{in: in, talk: talk}
	root := newRoot(s)
	root.SetArgs(args)
	root.SetIn(in)
	root.SetOut(out)
	root.SetErr(talk)
	var wrong error
	keepErrors(root, &wrong)
	err := s.rescued(func() error { return fang.Execute(ctx, root, fang.WithVersion(version)) })
	err = cmp.Or(wrong, err)
	say(talk, err)
	return status(err)
}

// keepErrors has the commands leave what went wrong in wrong and return nothing:
// before an error is shown, fang asks the terminal for its colours, and one that
// does not answer would make the coach wait four seconds for it.
func keepErrors(c *cobra.Command, wrong *error) {
	args, run := c.Args, c.RunE
	c.Args = func(cmd *cobra.Command, given []string) error {
		if args != nil {
			*wrong = args(cmd, given)
		}
		return nil
	}
	if run != nil {
		c.RunE = func(cmd *cobra.Command, given []string) error {
			if *wrong == nil {
				*wrong = run(cmd, given)
			}
			return nil
		}
	}
	c.SetFlagErrorFunc(func(_ *cobra.Command, err error) error {
		*wrong = usage(err)
		return nil
	})
	for _, sub := range c.Commands() {
		keepErrors(sub, wrong)
	}
}

// say prints an error for a person. Faults of a file stand as they are, place
// first, since editors jump to those.
func say(talk io.Writer, err error) {
	if err == nil || err.Error() == "" {
		return
	}
	head := "hawser: "
	if _, ok := errors.AsType[coachfile.Faults](err); ok {
		head = ""
	}
	for line := range strings.SplitSeq(err.Error(), "\n") {
		fmt.Fprintf(talk, "%s%s\n", head, shown(line))
	}
}

// newRoot builds the tree of commands.
func newRoot(s *shell) *cobra.Command {
	root := &cobra.Command{
		Use:   "hawser",
		Short: "Run pulling classes: loads that exist, a schedule that fits, splits by one key",
		Long: "Hawser runs mixed classes of sled, rope and lift work: who pulls what, on which sled,\n" +
			"when, with how much rest, and what that says about next week.\n\n" +
			"Without a home folder of your own it shows a made-up one, so try any command now.\n\n" +
			"More: hawser help keys, help files, help movements, help exit, help sound, help screen readers.",
		Example: "hawser\nhawser board slack-water\nhawser run slack-water\nhawser init ~/my-class",
		Args:    noArgs,
		RunE:    func(cmd *cobra.Command, _ []string) error { return s.pick(cmd) },
	}
	root.PersistentFlags().StringVar(&s.folder, "home", "", "the home folder (else $HAWSER_HOME, else your data folder)")
	mustFlag(root.MarkPersistentFlagDirname("home"))
	root.AddCommand(s.commands()...)
	root.AddCommand(s.topics()...)
	return root
}

// noArgs and its kin give the library's words our exit status.
func noArgs(cmd *cobra.Command, args []string) error {
	if len(args) > 0 {
		return usage(fmt.Errorf("%q is no command of %s; see: hawser --help", args[0], cmd.CommandPath()))
	}
	return nil
}
