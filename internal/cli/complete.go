package cli

import (
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"hawser/internal/logbook"
)

// What Tab offers. A home that cannot be read offers nothing and says nothing.

// whoFlag is --who on every command that plans a class; Tab offers one name after
// the other, each once.
func (s *shell) whoFlag(cmd *cobra.Command, who *[]string) {
	cmd.Flags().StringSliceVar(who, "who", nil, "who is here, NAME,NAME; the others arrive later (default all)")
	mustFlag(cmd.RegisterFlagCompletionFunc("who", func(_ *cobra.Command, _ []string, typed string) ([]string, cobra.ShellCompDirective) {
		before := typed[:strings.LastIndex(typed, ",")+1]
		given := strings.Split(before, ",")
		var lists []string
		for _, name := range s.words((*home).names, typed[len(before):]) {
			if !slices.Contains(given, name) && !strings.ContainsAny(name, `,"`) {
				lists = append(lists, before+name)
			}
		}
		return lists, cobra.ShellCompDirectiveNoFileComp | cobra.ShellCompDirectiveNoSpace
	}))
}

// mustFlag is for what fails only where a flag is misspelt in this program.
func mustFlag(err error) {
	if err != nil {
		panic(err)
	}
}

// completeSessions offers the home's sessions, and files.
func (s *shell) completeSessions(cmd *cobra.Command) {
	s.complete(cmd, 1, cobra.ShellCompDirectiveDefault, (*home).sessions)
}

// completeNames offers the people of the roster.
func (s *shell) completeNames(cmd *cobra.Command) {
	s.complete(cmd, 1, cobra.ShellCompDirectiveNoFileComp, (*home).names)
}

// completeLogs offers runs for up to most arguments, and files.
func (s *shell) completeLogs(cmd *cobra.Command, most int) {
	s.complete(cmd, most, cobra.ShellCompDirectiveDefault, (*home).runs)
}

// complete offers words of the home for the first arguments, each word once.
func (s *shell) complete(cmd *cobra.Command, most int, others cobra.ShellCompDirective, words func(*home) []string) {
	cmd.ValidArgsFunction = func(_ *cobra.Command, args []string, typed string) ([]string, cobra.ShellCompDirective) {
		if len(args) >= most {
			return nil, cobra.ShellCompDirectiveNoFileComp
		}
		return slices.DeleteFunc(s.words(words, typed), func(w string) bool { return slices.Contains(args, w) }), others
	}
}

// words asks the home, quietly, for what begins with what was typed.
func (s *shell) words(of func(*home) []string, typed string) []string {
	h, err := s.quietly().open("")
	if err != nil {
		return nil
	}
	return slices.DeleteFunc(of(h), func(w string) bool { return !strings.HasPrefix(w, typed) })
}

// names are the people of the roster.
func (h *home) names() []string {
	var names []string
	for _, a := range h.roster.Athletes {
		names = append(names, a.Name)
	}
	return names
}

// runs are the runs of the home by their ULID, newest first.
func (h *home) runs() []string {
	list, _ := logbook.Runs(h.logs) // none is an answer too
	var names []string
	for _, run := range slices.Backward(list) {
		names = append(names, run.ULID)
	}
	return names
}
