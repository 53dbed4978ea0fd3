//go:build !linux

package sound

// devices lists the kinds of device, best first.
func devices() []device { return []device{{open: openOto}} }
