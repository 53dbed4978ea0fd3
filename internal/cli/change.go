package cli

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"github.com/google/renameio/v2/maybe"

	"hawser/internal/tui"
)

// change makes a form's edit of a file and reads the home anew. The file is read
// at the last moment, so that what an editor wrote meanwhile stays; a file that
// must be new is never written over.
func (s *shell) change(h *home, c tui.Change) (*tui.World, error) {
	before, err := h.source(c.File)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, err
	}
	if c.New && err == nil {
		return nil, fmt.Errorf("%s is there already; write another name, nothing is written over", shown(h.name(c.File)))
	}
	after, err := c.Edit(before)
	if err != nil {
		return nil, err
	}
	if before == nil {
		err = h.writeFirst(c.File, after)
	} else {
		err = h.rewrite(c.File, before, after)
	}
	if err != nil {
		return nil, err
	}
	fresh, err := (&shell{in: s.in, talk: s.talk, folder: h.path}).open("")
	if err != nil {
		return nil, err
	}
	w, err := s.world(fresh, "", running{})
	if err != nil {
		return nil, err
	}
	if w.Rest != nil {
		rest, _ := w.Rest()
		w.Sessions = append(w.Sessions, rest...)
	}
	return w, nil
}

// writeFirst writes a file that is not there yet, and its folder.
func (h *home) writeFirst(file string, src []byte) error {
	path := filepath.Join(h.path, filepath.FromSlash(file))
	if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		return fmt.Errorf("write %s: %w", shown(path), err)
	}
	return writeNew(path, h.fresh(file, src))
}

// rewrite writes a file in one step, and the file as it was beside it.
func (h *home) rewrite(file string, before, after []byte) error {
	if bytes.Equal(before, after) {
		return nil
	}
	path := filepath.Join(h.path, filepath.FromSlash(file))
	for _, one := range []struct {
		path string
		src  []byte
	}{{path + ".old", before}, {path, after}} {
		if err := maybe.WriteFile(one.path, one.src, 0o600); err != nil {
			return fmt.Errorf("write %s: %w", shown(one.path), err)
		}
	}
	return nil
}

// lacks says on the first screen what a class still needs.
func (h *home) lacks() string {
	switch {
	case len(h.roster.Athletes) == 0:
		return "nobody is in the roster yet: n, then 2, adds a person"
	case len(h.kit.Sleds) == 0:
		return "the kit has no sled yet: n, then 4, adds one"
	}
	return ""
}
