package history

import (
	"io"
	"io/fs"
	"os"
	"slices"
)

// readInto reads a regular file into buf, or into a larger one.
func readInto(path string, buf []byte) ([]byte, error) {
	info, err := os.Lstat(path)
	if err != nil {
		return buf, err //nolint:wrapcheck // the logbook tries again and says it
	}
	if !info.Mode().IsRegular() {
		return buf, fs.ErrInvalid
	}
	f, err := os.Open(path)
	if err != nil {
		return buf, err //nolint:wrapcheck // the logbook tries again and says it
	}
	defer f.Close()
	buf = slices.Grow(buf[:0], int(info.Size()))[:info.Size()] // what was added since is read next time
	_, err = io.ReadFull(f, buf)
	return buf, err //nolint:wrapcheck // the logbook tries again and says it
}
