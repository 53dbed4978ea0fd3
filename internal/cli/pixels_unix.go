//go:build unix

package cli

import (
	"os"

	"golang.org/x/sys/unix"
)

// pixelHeight returns how many pixels tall the terminal says it is, 0 where it does
// not say.
func pixelHeight(f *os.File) int {
	size, err := unix.IoctlGetWinsize(int(f.Fd()), unix.TIOCGWINSZ)
	if err != nil {
		return 0
	}
	return int(size.Ypixel)
}
