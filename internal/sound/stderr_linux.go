package sound

import "golang.org/x/sys/unix"

// aim makes file descriptor to another name of from.
func aim(from, to int) error { return unix.Dup3(from, to, 0) } //nolint:wrapcheck // the caller gives up silence, no more
