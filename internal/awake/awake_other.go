//go:build !linux && !darwin && !windows

package awake

import "errors"

var errUnknown = errors.New("not known how on this system")

func keep() (func(), error) { return nil, errUnknown }
