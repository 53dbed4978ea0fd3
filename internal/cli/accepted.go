package cli

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"

	"github.com/google/renameio/v2/maybe"

	"hawser/internal/session"
)

// nextName is the file of the loads for next time that the coach has accepted. It
// lies beside the logs, so that the made-up home has one too.
const nextName = "next.toml"

// readNext reads next.toml; where there is none, nothing was accepted.
func (h *home) readNext() ([]session.Accepted, error) {
	src, err := h.nextSource()
	if err != nil {
		return nil, err
	}
	return session.ParseAccepted(filepath.Join(h.logs, nextName), src)
}

func (h *home) nextSource() ([]byte, error) {
	src, err := readFile(filepath.Join(h.logs, nextName))
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	return src, err
}

// accept writes a load for next time down where the next board finds it.
func (h *home) accept(a session.Accepted) error {
	return h.changeNext(func(name string, src []byte) ([]byte, error) { return session.Accept(name, src, a) })
}

// dropNext takes accepted loads out again: those that are out.
func (h *home) dropNext(out func(*session.Accepted) bool) error {
	return h.changeNext(func(name string, src []byte) ([]byte, error) { return session.Reject(name, src, out) })
}

func (h *home) changeNext(change func(name string, src []byte) ([]byte, error)) error {
	path := filepath.Join(h.logs, nextName)
	before, err := h.nextSource()
	if err != nil {
		return err
	}
	after, err := change(path, before)
	if err != nil || bytes.Equal(before, after) {
		return err
	}
	if err := maybe.WriteFile(path, after, 0o600); err != nil {
		return fmt.Errorf("write the next loads: %w", err)
	}
	h.accepted, err = session.ParseAccepted(path, after)
	return err
}
