//go:build !windows

package logbook

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"slices"
	"strings"

	"golang.org/x/sys/unix"
)

// list looks at what names that run in a folder. Ten years are 25,000 files, so it
// asks the system for each of them once and for no more than it needs.
func list(folder *os.File, run string) ([]item, error) {
	names, err := folder.Readdirnames(-1)
	if err != nil {
		return nil, err //nolint:wrapcheck // it names the folder
	}
	names = slices.DeleteFunc(names, func(name string) bool { return !strings.Contains(name, run) })
	slices.Sort(names)
	all := make([]item, 0, len(names))
	fd := int(folder.Fd())
	var st unix.Stat_t
	for _, name := range names {
		switch err := lookAt(fd, name, &st); {
		case errors.Is(err, fs.ErrNotExist): // removed since
		case err != nil:
			return nil, fmt.Errorf("look at %s: %w", name, err)
		default:
			mode := uint32(st.Mode) //nolint:unconvert // 16 bits on some systems
			all = append(all, item{name, kind(mode), st.Size, st.Mtim.Nano(), st.Ctim.Nano()})
		}
	}
	return all, nil
}

// lookAt asks again where a signal came between, as it can on a disk of the network.
func lookAt(folder int, name string, st *unix.Stat_t) error {
	for {
		err := unix.Fstatat(folder, name, st, unix.AT_SYMLINK_NOFOLLOW)
		if !errors.Is(err, unix.EINTR) {
			return err //nolint:wrapcheck // the caller names the file
		}
	}
}

func kind(mode uint32) fs.FileMode {
	switch mode & unix.S_IFMT {
	case unix.S_IFREG:
		return 0
	case unix.S_IFDIR:
		return fs.ModeDir
	}
	return fs.ModeIrregular
}
