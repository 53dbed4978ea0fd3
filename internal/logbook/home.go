package logbook

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/gofrs/flock"
)

// Home is a home folder that this process alone may write logs in.
type Home struct {
	files files
	close func() error
}

const lockName = ".lock"

// InUseError says which process holds a home; 0 where that is not known. It is ErrInUse.
type InUseError struct {
	Folder string
	PID    int
}

func (e *InUseError) Error() string {
	who := "another program"
	if e.PID > 0 {
		who = fmt.Sprintf("another hawser (process %d)", e.PID)
	}
	return fmt.Sprintf("%s is in use by %s; end that one first, or use another --home", e.Folder, who)
}

func (e *InUseError) Unwrap() error { return ErrInUse }

// Open takes a home for this process, and makes the folder where there is none. The
// lock is the kernel's and goes with the process, however that ends: there are no
// stale locks. The file only says who.
func Open(folder string) (*Home, error) {
	folder, err := filepath.Abs(folder)
	if err == nil {
		err = makeHome(folder)
	}
	if err != nil {
		return nil, fmt.Errorf("open home: %w", err)
	}
	root, err := os.OpenRoot(folder)
	if err != nil {
		return nil, fmt.Errorf("open home: %w", err)
	}
	lock, err := take(root, folder)
	if err != nil {
		return nil, errors.Join(err, root.Close())
	}
	return &Home{files: disk{root}, close: func() error {
		_ = root.WriteFile(lockName, nil, 0o600) // an old number harms nobody: the lock decides
		return errors.Join(lock.Close(), root.Close())
	}}, nil
}

// makeHome makes a folder and those above it, and lets their names last.
func makeHome(folder string) error {
	if info, err := os.Stat(folder); err == nil && info.IsDir() {
		return nil
	}
	above := filepath.Dir(folder)
	if above == folder {
		return &fs.PathError{Op: "mkdir", Path: folder, Err: fs.ErrNotExist}
	}
	if err := makeHome(above); err != nil {
		return err
	}
	root, err := os.OpenRoot(above)
	if err != nil {
		return err //nolint:wrapcheck // it names the folder
	}
	defer root.Close()
	return errors.Join(disk{root}.Folder(filepath.Base(folder)), disk{root}.SyncFolder("."))
}

// take takes the lock, and writes into its file who holds it.
func take(root *os.Root, folder string) (*flock.Flock, error) {
	if err := (disk{root}).plain(lockName); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, fmt.Errorf("lock home: %w", err)
	}
	lock := flock.New(filepath.Join(folder, lockName), flock.SetFlag(os.O_CREATE|os.O_RDWR), flock.SetPermissions(0o600))
	locked, err := lock.TryLock()
	if err != nil {
		return nil, fmt.Errorf("lock home: %w", err)
	}
	if !locked {
		text, _ := root.ReadFile(lockName) // without it, nobody is named
		pid, _ := strconv.Atoi(strings.TrimSpace(string(text)))
		return nil, &InUseError{Folder: folder, PID: pid}
	}
	_ = root.Chmod(lockName, 0o600)
	_ = root.WriteFile(lockName, fmt.Appendln(nil, os.Getpid()), 0o600) // the lock holds without it
	return lock, nil
}

// Close gives the home back.
func (h *Home) Close() error {
	if err := h.close(); err != nil {
		return fmt.Errorf("close home: %w", err)
	}
	return nil
}
