//go:build !unix

package tui

import tea "charm.land/bubbletea/v2"

// watchSignals has nothing to do here: there is neither SIGHUP nor SIGTSTP.
func watchSignals(*tea.Program, func()) func() { return func() {} }
