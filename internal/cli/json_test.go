package cli

import (
	"bytes"
	"encoding/json"
	"testing"

	"pgregory.net/rapid"
)

// TestWriteIndented: a page is what encoding/json makes of the same document.
func TestWriteIndented(t *testing.T) {
	t.Parallel()
	text := rapid.OneOf(rapid.String(), rapid.SampledFrom([]string{"", `"`, `\`, `\"`, "{", "]", ",", ":", "a: b, c", "\n"}))
	var value func(depth int) *rapid.Generator[any]
	value = func(depth int) *rapid.Generator[any] {
		all := []*rapid.Generator[any]{
			rapid.Just[any](nil), rapid.Bool().AsAny(), rapid.Int().AsAny(), rapid.Float64Range(-1e6, 1e6).AsAny(), text.AsAny(),
		}
		if depth > 0 {
			all = append(all, rapid.SliceOfN(value(depth-1), 0, 4).AsAny(), rapid.MapOfN(text, value(depth-1), 0, 4).AsAny())
		}
		return rapid.OneOf(all...)
	}
	rapid.Check(t, func(t *rapid.T) {
		v := value(3).Draw(t, "v")
		if rapid.Bool().Draw(t, "long") {
			v = []any{v, bytes.Repeat([]byte("a"), 100_000), v}
		}
		doc, err := json.Marshal(v)
		if err != nil {
			t.Fatal(err)
		}
		var want, got bytes.Buffer
		if err := json.Indent(&want, doc, "", "  "); err != nil {
			t.Fatal(err)
		}
		if err := writeIndented(&got, doc); err != nil || got.String() != want.String() {
			t.Fatalf("writeIndented(%s) = %s, %v, want %s", doc, got.String(), err, want.String())
		}
	})
}
