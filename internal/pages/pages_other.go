//go:build !linux

package pages

// Reserve does nothing on this system.
func Reserve(int) {}
