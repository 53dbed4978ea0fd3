package awake

import (
	"errors"
	"runtime"

	"golang.org/x/sys/windows"
)

// The states of SetThreadExecutionState.
const (
	system     = 0x1
	display    = 0x2
	continuous = 0x8000_0000
)

var errRefused = errors.New("the system refuses to stay awake")

// keep holds a thread of its own, since the wish belongs to the thread.
func keep() (func(), error) {
	wish := windows.NewLazySystemDLL("kernel32.dll").NewProc("SetThreadExecutionState")
	if err := wish.Find(); err != nil {
		return nil, errRefused
	}
	granted, end, done := make(chan bool), make(chan struct{}), make(chan struct{})
	go func() {
		defer close(done)
		runtime.LockOSThread()
		defer runtime.UnlockOSThread()
		before, _, _ := wish.Call(continuous | system | display)
		granted <- before != 0
		<-end
		_, _, _ = wish.Call(continuous)
	}()
	release := func() { close(end); <-done }
	if !<-granted {
		release()
		return nil, errRefused
	}
	return release, nil
}
