package sound

// State is how the sound stands.
type State int

// The states.
const (
	Off  State = iota // no device, or none wanted
	On                // heard, as far as can be told
	Lost              // there was a device, and it is gone
)

// String returns the word for the screen.
func (s State) String() string {
	switch s {
	case Off:
		return "no sound"
	case On:
		return "sound on"
	case Lost:
		return "sound lost"
	}
	return ""
}

// Status is the state and, where there is no sound, why: in plain words, and at
// length as the system tells it.
type Status struct {
	State       State
	Why, Detail string
}
