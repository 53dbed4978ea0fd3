package movement

import "testing"

func TestNext(t *testing.T) {
	t.Parallel()
	for now, want := range map[string]string{
		"forward drag": "backward drag", "forward drag with rope": "sled row", "sled row": "forward drag",
		"hand over hand pull": "seated hand over hand pull", "deadlift": "deadlift", "vehicle pull": "sled row",
	} {
		if got := Next(now); got != want {
			t.Errorf("Next(%s) = %s, want %s", now, got, want)
		}
	}
}
