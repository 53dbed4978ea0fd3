package history

import (
	"runtime"

	"golang.org/x/sys/unix"
)

// wanted has the disk begin to read a file.
func wanted(fd int) { _ = unix.Fadvise(fd, 0, 0, unix.FADV_WILLNEED) }

// reserve has the system back so many bytes of the heap, where they are many, with
// pages of 2 MB as they are used. A gym's ten years take 25,000 pages of 4 kB, and
// to get one can cost 15 µs on a virtual machine.
func reserve(size int) {
	if size < 8<<20 {
		return
	}
	room := make([]byte, size)
	_ = unix.Madvise(room, unix.MADV_HUGEPAGE)
	runtime.GC() // room is the heap's again
}
