package cli

import (
	"fmt"
	"math"

	"github.com/spf13/cobra"

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

// percent writes a percentage that was worked out as one.
func percent(s measure.Style, p float64) string {
	return s.Share(measure.Share(math.Round(p * float64(measure.Percent))))
}
