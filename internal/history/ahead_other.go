//go:build !linux

package history

func wanted(int) {}

func reserve(int) {}
