package tui

import (
	"errors"
	"io"
	"testing"
)

// TestOpening: what is written while the world is made is shown once it is there, and
// never where it cannot be made.
func TestOpening(t *testing.T) {
	t.Parallel()
	wrong := errors.New("roster.toml: this cannot be read")
	for _, c := range []struct {
		name string
		open func() error
		err  error
		want string
	}{
		{"made", func() error { return nil }, nil, "a question"},
		{"whole already", nil, nil, "a question"},
		{"not made", func() error { return wrong }, wrong, ""},
		{"broken", func() error { panic("broken") }, nil, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			r, w := pipe(t)
			d := newDisplay(w, func() {})
			if _, err := d.Write([]byte("a question")); err != nil {
				t.Fatal(err)
			}
			o := &opening{show: d.show}
			o.start(c.open, func() { _ = recover() })
			if ok := o.wait(); ok != (c.want != "") || !errors.Is(o.err, c.err) {
				t.Errorf("wait() = %v, %v, want %v", ok, o.err, c.err)
			}
			d.drain()
			w.Close()
			if got, err := io.ReadAll(r); string(got) != c.want || err != nil {
				t.Errorf("on the screen stands %q, want %q; %v", got, c.want, err)
			}
		})
	}
}
