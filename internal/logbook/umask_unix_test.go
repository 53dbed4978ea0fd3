//go:build !windows

package logbook

import "syscall"

func umask(mask int) int { return syscall.Umask(mask) }
