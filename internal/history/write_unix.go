//go:build !windows

package history

import "github.com/google/renameio/v2"

// write puts a file in its place whole, if it can; else what was there stays.
func write(path string, data []byte) { _ = renameio.WriteFile(path, data, 0o600) }
