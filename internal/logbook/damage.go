package logbook

import (
	"errors"
	"fmt"
)

// What a log can be. Torn is normal after a power cut: the last line was being
// written and nobody was told that it was kept. Damaged is not: something that was
// whole is gone or changed.
var (
	ErrTorn    = errors.New("logbook: torn last line")
	ErrDamaged = errors.New("logbook: damaged")
)

// Why a log or a home cannot be used. Each says what to do.
var (
	ErrNewer = errors.New("logbook: written by a newer hawser; it can be read, but not added to")
	ErrInUse = errors.New("logbook: the home is in use by another program")
	ErrNoLog = errors.New("logbook: there is no such log")
	ErrLink  = errors.New("logbook: links are not followed here; put the file itself in their place")
)

// DamageError is one thing wrong in a log, and where. It is ErrTorn or ErrDamaged.
type DamageError struct {
	File   string
	Line   int   // of the file, from 1
	Offset int64 // of that line, in bytes
	What   string
	Kind   error // ErrTorn or ErrDamaged
}

func (e *DamageError) Error() string {
	return fmt.Sprintf("%s:%d (byte %d): %s", e.File, e.Line, e.Offset, e.What)
}

func (e *DamageError) Unwrap() error { return e.Kind }
