//go:build !windows

package history

import (
	"slices"

	"golang.org/x/sys/unix"
)

// readInto reads a file into buf, or into a larger one. Ten years are 25,000 files,
// so it makes the few calls of the system that it takes and no more; it waits for
// nothing that was put in the file's place.
func readInto(path string, buf []byte) (data []byte, err error) {
	fd, err := unix.Open(path, unix.O_RDONLY|unix.O_NOFOLLOW|unix.O_NONBLOCK|unix.O_CLOEXEC, 0)
	if err != nil {
		return buf, err //nolint:wrapcheck // the logbook tries again and says it
	}
	defer unix.Close(fd)
	for buf = buf[:0]; ; {
		buf = slices.Grow(buf, 1)
		n, err := unix.Read(fd, buf[len(buf):cap(buf)])
		if err != nil || n <= 0 {
			return buf, err //nolint:wrapcheck // the logbook tries again and says it
		}
		buf = buf[:len(buf)+n]
	}
}
