// Package awake keeps a laptop's screen lit and the laptop from falling asleep
// while a class runs.
//
// [Keep] asks the system; where it refuses or does not understand, the error says
// so in one line for the coach, who can then change the laptop's own settings. What
// was asked for ends with the function that Keep returns, and with the program.
//
//	release, err := awake.Keep()
//	defer release()
package awake

import "fmt"

const (
	who = "hawser"
	why = "a class is running"
)

// Keep keeps the screen lit until release is called, once. release may be called
// after an error too; then it does nothing.
func Keep() (release func(), err error) {
	release, err = keep()
	if err != nil {
		return func() {}, fmt.Errorf("the screen may go dark, set it to stay on: %w", err)
	}
	return release, nil
}
