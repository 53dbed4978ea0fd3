//go:build !unix

package cli_test

import "testing"

// withUmask is for systems that have one.
func withUmask(*testing.T, int, func()) int { return 0 }
