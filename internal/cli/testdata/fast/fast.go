// This file is added to Go's package time where TestPtyEvening builds the program:
// all of its clocks and timers then go faster than those on the wall, and agree.
package time

import "syscall"

// rate is how many seconds this package sees in one of the machine.
const rate = 10

// both clocks show this Unix time in ns together. Each process of a test is told the
// same, so that what one writes is past for the next.
var together = func() (ns int64) {
	text, _ := syscall.Getenv("TOGETHER_NS")
	for _, digit := range text {
		ns = 10*ns + int64(digit-'0')
	}
	return ns
}()

func fastNow() (sec int64, nsec int32, mono int64) {
	sec, nsec, _ = runtimeNow()
	ns := together + (sec*1e9+int64(nsec)-together)*rate
	return ns / 1e9, int32(ns % 1e9), fastNano()
}

func fastNano() int64 { return startNano + (runtimeNano()-startNano)*rate }
