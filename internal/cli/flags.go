package cli

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"hawser/internal/logbook"
	"hawser/internal/measure"
)

// one asks for exactly one argument of that name.
func one(name string) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		switch {
		case len(args) == 0:
			return usage(fmt.Errorf("%s needs a %s; see: %s --help", cmd.CommandPath(), name, cmd.CommandPath()))
		case len(args) > 1:
			return usage(fmt.Errorf("%q is too much; %s takes one %s", shown(args[1]), cmd.CommandPath(), name))
		}
		return nil
	}
}

// atMostOne takes one argument of that name, or none.
func atMostOne(name string) cobra.PositionalArgs { return atMost("one "+name, 1) }

// atMost refuses more than n arguments; it takes says which they are.
func atMost(takes string, n int) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		if len(args) > n {
			return usage(fmt.Errorf("%q is too much; %s takes %s", shown(args[n]), cmd.CommandPath(), takes))
		}
		return nil
	}
}

// whoFlag is --who on every command that plans a class.
func whoFlag(cmd *cobra.Command, who *[]string) {
	cmd.Flags().StringSliceVar(who, "who", nil, "who is here, NAME,NAME; the others arrive later (default all)")
}

// percent writes a percentage that was worked out as one.
func percent(s measure.Style, p float64) string {
	return s.Share(measure.Share(math.Round(p * float64(measure.Percent))))
}

// completeSessions offers the home's sessions, and files, when Tab is pressed.
func (s *shell) completeSessions(cmd *cobra.Command) {
	s.complete(cmd, cobra.ShellCompDirectiveDefault, (*home).sessions)
}

// completeNames offers the people of the roster.
func (s *shell) completeNames(cmd *cobra.Command) {
	s.complete(cmd, cobra.ShellCompDirectiveNoFileComp, func(h *home) []string {
		var names []string
		for _, a := range h.roster.Athletes {
			names = append(names, a.Name)
		}
		return names
	})
}

// completeLogs offers the runs by their ULID, newest first, and files.
func (s *shell) completeLogs(cmd *cobra.Command) {
	s.complete(cmd, cobra.ShellCompDirectiveDefault, func(h *home) []string {
		runs, _ := logbook.Runs(h.logs) // none is an answer too
		var names []string
		for _, run := range slices.Backward(runs) {
			names = append(names, run.ULID)
		}
		return names
	})
}

// complete offers words of the home for the first argument.
func (s *shell) complete(cmd *cobra.Command, others cobra.ShellCompDirective, words func(*home) []string) {
	cmd.ValidArgsFunction = func(_ *cobra.Command, args []string, typed string) ([]string, cobra.ShellCompDirective) {
		if len(args) > 0 {
			return nil, cobra.ShellCompDirectiveNoFileComp
		}
		h, err := s.quietly().open("")
		if err != nil {
			return nil, cobra.ShellCompDirectiveDefault
		}
		return slices.DeleteFunc(words(h), func(w string) bool { return !strings.HasPrefix(w, typed) }), others
	}
}
