//go:build unix

package sound

import "golang.org/x/sys/unix"

// quietStderr sends what C libraries write to stderr to nowhere until the
// function that it returns is called. Where that cannot be, nothing changes.
func quietStderr() (loud func()) {
	const stderr = 2
	nowhere, err := unix.Open("/dev/null", unix.O_WRONLY|unix.O_CLOEXEC, 0)
	if err != nil {
		return func() {}
	}
	defer func() { _ = unix.Close(nowhere) }()
	kept, err := unix.FcntlInt(stderr, unix.F_DUPFD_CLOEXEC, 0)
	if err != nil {
		return func() {}
	}
	if aim(nowhere, stderr) != nil {
		_ = unix.Close(kept)
		return func() {}
	}
	return func() {
		_ = aim(kept, stderr)
		_ = unix.Close(kept)
	}
}
