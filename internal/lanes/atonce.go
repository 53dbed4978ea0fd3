package lanes

// atOnce does several things at the same time, as far as there are cores for it, and
// returns when all are done. None may touch what another one changes, so that the answer
// is the same however fast each is. What one of them panics with, atOnce panics with.
func atOnce(things ...func()) {
	done := make(chan any)
	for _, do := range things {
		go func() {
			defer func() { done <- recover() }()
			do()
		}()
	}
	var wrong any
	for range things {
		if w := <-done; w != nil {
			wrong = w
		}
	}
	if wrong != nil {
		panic(wrong)
	}
}
