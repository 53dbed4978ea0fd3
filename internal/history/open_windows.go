package history

import (
	"io"
	"io/fs"
	"os"
	"slices"
)

// file is an open file.
type file struct {
	*os.File
	size int
}

// open opens a regular file.
func open(path string) (file, error) {
	info, err := os.Lstat(path)
	if err != nil {
		return file{}, err //nolint:wrapcheck // the logbook tries again and says it
	}
	if !info.Mode().IsRegular() {
		return file{}, fs.ErrInvalid
	}
	f, err := os.Open(path)
	return file{f, int(info.Size())}, err //nolint:wrapcheck // the logbook tries again and says it
}

// readInto reads it into buf, or into a larger one, and closes it.
func (f file) readInto(buf []byte) ([]byte, error) {
	defer f.close()
	buf = slices.Grow(buf[:0], f.size)[:f.size] // what was added since is read next time
	_, err := io.ReadFull(f, buf)
	return buf, err //nolint:wrapcheck // the logbook tries again and says it
}

func (f file) close() { _ = f.Close() }
