package cli

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"runtime/debug"
	"strings"

	"github.com/google/renameio/v2/maybe"
	"github.com/spf13/cobra"

	"hawser/internal/history"
	"hawser/internal/logbook"
	"hawser/internal/roster"
	"hawser/internal/session"
)

func (s *shell) forgetCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "forget NAME",
		Short: "Take a person out of the roster and of every log",
		Long: "Removes a person from roster.toml and from every log, private and torn ones too. Their\n" +
			"splits still count, without the name. Then it searches the whole home, and says which of\n" +
			"your own files still hold the name. Copies elsewhere cannot be reached.",
		Example: `hawser forget "Jo Ann"`,
		Args:    one("NAME"),
		RunE: func(cmd *cobra.Command, args []string) (err error) {
			h, err := s.open("")
			if err != nil {
				return err
			}
			folder, err := s.lock(h)
			if err != nil {
				return err
			}
			defer func() { err = errors.Join(err, folder.Close()) }()
			forgot, err := folder.Forget(args[0])
			if err != nil {
				return fmt.Errorf("forget %s: %w", shown(args[0]), err)
			}
			if err := h.dropFromRoster(args[0]); err != nil {
				return err
			}
			if err := h.dropNext(func(a *session.Accepted) bool { return a.Athlete == args[0] }); err != nil {
				return err
			}
			if err := os.Remove(filepath.Join(h.logs, history.CacheName)); err != nil && !errors.Is(err, os.ErrNotExist) {
				return fmt.Errorf("forget %s: %w", shown(args[0]), err)
			}
			if err := h.searchFor(args[0], &forgot); err != nil {
				return fmt.Errorf("forget %s: %w", shown(args[0]), err)
			}
			out := cmd.OutOrStdout()
			fmt.Fprintf(out, "rewritten: %d files, removed: %d\n", len(forgot.Rewritten), len(forgot.Removed))
			for _, b := range forgot.Beyond {
				fmt.Fprintf(out, "still there: %s\n", shown(b))
			}
			fmt.Fprintln(out, "copies, backups, printed pages and shared files cannot be reached from here")
			return nil
		},
	}
}

// searchFor goes through the whole home once all is rewritten. What it kept itself of
// a file as it was before is removed; of the coach's own files that name the person
// it says which, for they say what the coach means.
func (h *home) searchFor(name string, forgot *logbook.Forgot) error {
	top := h.path
	if h.demo {
		top = h.logs
	}
	root, err := os.OpenRoot(top)
	if err != nil {
		return fmt.Errorf("search the home: %w", err)
	}
	defer root.Close()
	word := regexp.MustCompile(`(?i)(^|[^\p{L}\p{N}])` + regexp.QuoteMeta(name) + `s?([^\p{L}\p{N}]|$)`)
	err = fs.WalkDir(root.FS(), ".", func(path string, e fs.DirEntry, err error) error {
		if err != nil || !e.Type().IsRegular() || strings.HasPrefix(path, "log/") {
			return err
		}
		data, err := root.ReadFile(path)
		if err != nil || !word.Match(data) && !word.MatchString(path) {
			return err //nolint:wrapcheck // it names the file
		}
		if filepath.Ext(path) == ".old" {
			forgot.Removed = append(forgot.Removed, path)
			return root.Remove(path)
		}
		forgot.Beyond = append(forgot.Beyond, path+": it is yours; take the name out there, or delete it")
		return nil
	})
	if err != nil {
		return fmt.Errorf("search the home: %w", err)
	}
	return nil
}

// dropFromRoster writes roster.toml without a person, where they stand in it.
func (h *home) dropFromRoster(name string) error {
	if h.demo || h.roster.Find(name) == nil {
		return nil
	}
	src, err := h.source("roster.toml")
	if err != nil {
		return err
	}
	src, err = roster.Remove(h.name("roster.toml"), src, name)
	if err != nil {
		return fmt.Errorf("take %s out of the roster: %w", shown(name), err)
	}
	if err := maybe.WriteFile(filepath.Join(h.path, "roster.toml"), src, 0o600); err != nil {
		return fmt.Errorf("write the roster: %w", err)
	}
	return nil
}

func (s *shell) reportCommand() *cobra.Command {
	return &cobra.Command{
		Use:     "report",
		Short:   "What a bug report needs, with no names in it",
		Long:    "Prints the version, the system, the terminal and how many files the home has.",
		Example: "hawser report",
		Args:    noArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			out := cmd.OutOrStdout()
			made := version
			if info, ok := debug.ReadBuildInfo(); ok && made == "" {
				made = info.Main.Version
			}
			fmt.Fprintf(out, "hawser %s, %s, %s/%s\n", made, runtime.Version(), runtime.GOOS, runtime.GOARCH)
			for _, name := range []string{"TERM", "COLORTERM", "NO_COLOR", "LC_ALL", "LC_CTYPE", "LANG"} {
				fmt.Fprintf(out, "%s=%s\n", name, shown(os.Getenv(name)))
			}
			h, err := s.open("")
			if err != nil {
				fmt.Fprintln(out, "the home has faults: hawser check")
				return nil //nolint:nilerr // a report is for when something is wrong
			}
			runs, _ := logbook.Runs(h.logs) // none is an answer too
			fmt.Fprintf(out, "demo home: %v, people: %d, sleds: %d, sessions: %d, runs: %d\n",
				h.demo, len(h.roster.Athletes), len(h.kit.Sleds), len(h.sessions()), len(runs))
			return nil
		},
	}
}
