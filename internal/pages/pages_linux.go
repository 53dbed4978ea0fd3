package pages

import (
	"runtime"

	"golang.org/x/sys/unix"
)

// Reserve has so many of the heap's next bytes stand in large pages. What is not used
// of them takes no memory. It waits for a collection of garbage.
func Reserve(size int) {
	room := make([]byte, size)
	_ = unix.Madvise(room, unix.MADV_HUGEPAGE)
	runtime.GC() // room is the heap's again
}
