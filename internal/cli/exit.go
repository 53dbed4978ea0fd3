package cli

import (
	"context"
	"errors"
)

// The exit statuses. They are part of the command line; do not change them.
const (
	Done        = 0   // all well
	Findings    = 1   // a finding that stops; the page was printed all the same
	Usage       = 2   // the command line asks for something there is not
	BadFile     = 3   // a file is wrong, or cannot be read or written
	NoLog       = 4   // there is no log to read
	HomeInUse   = 5   // another program runs a class from this home
	Interrupted = 130 // the coach stopped it
)

// exit is an error that names its exit status. Where err is nil there is nothing
// to say: the page said it.
type exit struct {
	status int
	err    error
}

func (e *exit) Error() string {
	if e.err == nil {
		return ""
	}
	return e.err.Error()
}

func (e *exit) Unwrap() error { return e.err }

// usage marks err as a mistake on the command line.
func usage(err error) error {
	if err == nil {
		return nil
	}
	return &exit{Usage, err}
}

// status is what the program leaves the shell with after err. An error that
// names none is about a file: nothing else can fail here.
func status(err error) int {
	if err == nil {
		return Done
	}
	if named, ok := errors.AsType[*exit](err); ok {
		return named.status
	}
	if errors.Is(err, context.Canceled) {
		return Interrupted
	}
	return BadFile
}
