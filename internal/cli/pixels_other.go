//go:build !unix

package cli

import "os"

// pixelHeight returns 0: a terminal here does not say how many pixels tall it is.
func pixelHeight(*os.File) int { return 0 }
