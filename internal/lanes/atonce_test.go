package lanes

import (
	"slices"
	"testing"
)

// Two things that wait for one another come to an end only where they are done at once.
func TestAtOnce(t *testing.T) {
	t.Parallel()
	there, back := make(chan int), make(chan int)
	got := 0
	atOnce(func() { there <- 1; got += <-back }, func() { back <- 1 + <-there })
	if got != 2 {
		t.Errorf("two things that hand a number to and fro came to %d, want 2", got)
	}
}

// What goes wrong in one of several things reaches the one who asked, when all are done.
func TestAtOncePassesPanicsOn(t *testing.T) {
	t.Parallel()
	done := []bool{false, false}
	defer func() {
		if wrong := recover(); wrong != "no seats" || !slices.Equal(done, []bool{true, true}) {
			t.Errorf("atOnce panicked with %v, what it had to do was %v, want no seats and all done", wrong, done)
		}
	}()
	atOnce(func() { done[0] = true }, func() { panic("no seats") }, func() { done[1] = true })
}
