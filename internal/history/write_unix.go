//go:build !windows

package history

import "github.com/google/renameio/v2"

// write puts a file in its place whole, or leaves what was there.
func write(path string, data []byte) error { return renameio.WriteFile(path, data, 0o600) }
