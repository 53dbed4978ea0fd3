package floor

import (
	"reflect"
	"testing"
	"time"
)

// TestDecideChangesNothing: whatever the clock has brought by then, a command that is decided on changes
// nothing before its events are applied, and says the same when it is asked again.
func TestDecideChangesNothing(t *testing.T) {
	t.Parallel()
	for _, part := range parts() {
		p := one(part, "Ada Bo", "A B")
		p.Parts = append(p.Parts, p.Parts[0])
		r := begin(t, p)
		at := r.zero + 20*time.Minute
		before := dump(r.s, at)
		first, err := Decide(r.s, Hold{}, at)
		again, errAgain := Decide(r.s, Hold{}, at)
		if !reflect.DeepEqual(again, first) || !reflect.DeepEqual(errAgain, err) {
			t.Errorf("%s: %+v, %v, and asked again %+v, %v", part.Format, first, err, again, errAgain)
		}
		if after := dump(r.s, at); after != before {
			t.Errorf("%s: before\n%s\nafter\n%s", part.Format, before, after)
		}
	}
}
