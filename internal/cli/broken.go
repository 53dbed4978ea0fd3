package cli

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"runtime"

	"hawser/internal/tui"
)

// brokenName is the report of the last fault of this program, in the home's logs.
const brokenName = "broken.txt"

// reported writes down where the program broke, if it did, and says where that
// stands. No name and nothing else of a class is in it.
func (h *home) reported(err error) error {
	broken, ok := errors.AsType[*tui.BrokenError](err)
	if !ok {
		return err
	}
	text := fmt.Sprintf("hawser %s, %s, %s/%s\n%s", version, runtime.Version(), runtime.GOOS, runtime.GOARCH, broken.Report)
	root, wrong := os.OpenRoot(h.logs)
	if wrong != nil {
		return err
	}
	defer root.Close()
	if root.WriteFile(brokenName, []byte(text), 0o600) != nil {
		return err
	}
	return fmt.Errorf("%w\nwhat broke stands in %s, with no names in it: send it to whoever mends this program", err, filepath.Join(h.logs, brokenName))
}

// rescued runs a command, and makes an error of a panic: a person never sees a stack
// trace.
func (s *shell) rescued(run func() error) (err error) {
	defer func() {
		if r := recover(); r != nil {
			err = tui.Broken(r)
			if s.home != nil {
				err = s.home.reported(err)
			}
		}
	}()
	return run()
}
