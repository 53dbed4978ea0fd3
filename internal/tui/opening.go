package tui

// opening is what is done before the first page, beside the terminal's own start.
type opening struct {
	show func(bool) // lets the screen be written to, or not at all
	done chan struct{}
	err  error // once done is closed; nil also where something broke
	ok   bool
}

// start opens in a goroutine of its own.
func (o *opening) start(open func() error, rescue func()) {
	o.done = make(chan struct{})
	go func() {
		defer close(o.done)
		defer rescue()
		if open != nil {
			o.err = open()
		}
		o.ok = o.err == nil
	}()
}

// wait waits until all is open and reports whether it is. Where it is not, what the
// library has written so far, questions to the terminal among it, is never shown: their
// answers would stand on the shell's line.
func (o *opening) wait() bool {
	<-o.done
	o.show(o.ok)
	return o.ok
}
