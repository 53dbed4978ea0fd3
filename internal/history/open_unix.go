//go:build !windows

package history

import (
	"slices"

	"golang.org/x/sys/unix"
)

// file is an open file. Ten years are 25,000 of them, so it makes the few calls of the
// system that it takes and no more.
type file int

// open opens a file and asks the disk for it, without waiting for either what it
// holds or for something that was put in its place.
func open(path string) (file, error) {
	fd, err := unix.Open(path, unix.O_RDONLY|unix.O_NOFOLLOW|unix.O_NONBLOCK|unix.O_CLOEXEC, 0)
	if err != nil {
		return 0, err //nolint:wrapcheck // the logbook tries again and says it
	}
	wanted(fd)
	return file(fd), nil
}

// readInto reads it into buf, or into a larger one, and closes it.
func (f file) readInto(buf []byte) (data []byte, err error) {
	defer f.close()
	for buf = buf[:0]; ; {
		buf = slices.Grow(buf, 1)
		n, err := unix.Read(int(f), buf[len(buf):cap(buf)])
		if err != nil || n <= 0 {
			return buf, err //nolint:wrapcheck // the logbook tries again and says it
		}
		buf = buf[:len(buf)+n]
	}
}

func (f file) close() { _ = unix.Close(int(f)) }
