package cli

import (
	"io"
	"math"
	"os"

	"github.com/spf13/cobra"
)

// shell is what every command shares: where the person sits and what the flags
// that all commands take say.
type shell struct {
	in     *os.File // looked at, and read by screens only
	talk   io.Writer
	folder string // --home
	home   *home  // once it was opened
}

// commands returns all commands in the order of an evening.
func (s *shell) commands() []*cobra.Command {
	after, replay, splits, watch := s.afterCommand(), s.replayCommand(), s.splitsCommand(), s.watchCommand()
	s.completeLogs(after, 1)
	s.completeLogs(watch, 1)
	s.completeLogs(replay, 2)
	s.completeLogs(splits, math.MaxInt)
	history, forget := s.historyCommand(), s.forgetCommand()
	for _, cmd := range []*cobra.Command{history, forget} {
		s.completeNames(cmd)
	}
	return []*cobra.Command{
		s.runCommand(), after, s.boardCommand(), s.rehearseCommand(), replay, splits, history,
		s.weekCommand(), watch, s.checkCommand(), s.initCommand(), s.schemaCommand(), s.soundCommand(), forget, s.reportCommand(),
	}
}

// quietly is the same shell with nothing to say: for completions.
func (s *shell) quietly() *shell { return &shell{in: s.in, talk: io.Discard, folder: s.folder} }
