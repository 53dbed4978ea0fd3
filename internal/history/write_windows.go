package history

import "os"

// write writes a file, if it can. Windows has no replacing in one step; half a cache is
// noticed when it is read, and made anew.
func write(path string, data []byte) { _ = os.WriteFile(path, data, 0o600) }
