package tui

import (
	"fmt"
	"testing"
	"time"

	"hawser/internal/floor"
	"hawser/internal/measure"
	"hawser/internal/session"
)

// TestStripKeys strikes each choice of the strip in the middle of a class. Every
// change is a tile that was chosen and two keys, Enter and the choice, but for
// those that need a figure.
func TestStripKeys(t *testing.T) {
	t.Parallel()
	const now = 190 * time.Second
	for _, tt := range []struct {
		who  int // -1: the class
		keys []string
		want string // the event, or the word of refusal
	}{
		{0, []string{"+"}, "floor.LoadChanged"},
		{0, []string{"-"}, "floor.LoadChanged"},
		{0, []string{"1"}, "floor.LoadChanged"},
		{0, []string{"2", "3", "9", "enter"}, "floor.Typed"},
		{0, []string{"2", "0", ":", "3", "9", ".", "4", "enter"}, "floor.Typed"},
		{0, []string{":", "3", "9", "enter"}, "floor.Typed"},
		{0, []string{"2", "9", "9", "enter"}, "type a time like 0:39"},
		{0, []string{"3"}, "floor.Typed"},
		{0, []string{"4"}, "floor.Struck"},
		{0, []string{"4", "2"}, "floor.Struck"},
		{1, []string{"M"}, "floor.Given"},
		{1, []string{"T"}, "floor.Given"},
		{0, []string{"0"}, "floor.Swapped"},
		{0, []string{","}, "floor.Swapped"},
		{0, []string{";"}, "floor.Swapped"},
		{0, []string{"7"}, "floor.LaneChanged"},
		{0, []string{"8"}, "floor.LaneChanged"},
		{0, []string{"9"}, "floor.LaneChanged"},
		{0, []string{"5"}, "floor.Left"},
		{0, []string{"5", "4", "2"}, "floor.PainGiven"},
		{0, []string{"6", "3"}, "floor.PainGiven"},
		{0, []string{"6", "+", "4"}, "floor.PainGiven"},
		{0, []string{".", "1", "4", "enter"}, "floor.Partial"},
		{0, []string{"/"}, "floor.SledOut"},
		{-1, []string{"1"}, "floor.Restarted"},
		{-1, []string{"2"}, "floor.PartLengthened"},
		{-1, []string{"3"}, "floor.PartLengthened"},
		{-1, []string{"4"}, "floor.PartSkipped"},
		{-1, []string{"5"}, "floor.GuestAdded"},
		{-1, []string{"6"}, "floor.SledOut"},
		{-1, []string{"0", "enter"}, "floor.PartEnded"},
		{-1, []string{"*"}, "floor.IntervalChanged"},
	} {
		r := midClass(t, 4, 4)
		c := roomOf(r, now)
		c.look()
		c.strip = &strip{who: tt.who}
		got := ""
		for i, key := range tt.keys {
			at := now + ten + time.Duration(i+1)*200*time.Millisecond
			cmd, _ := c.press(key, key, at)
			if c.live.say != "" {
				got = c.live.say
			}
			if cmd != nil {
				done := cmd().(kept)
				got = fmt.Sprintf("%T", done.events[0].E)
				c.live.keep(done)
			}
		}
		if got != tt.want {
			t.Errorf("%d, %v became %q, want %s", tt.who, tt.keys, got, tt.want)
		}
	}
}

// TestWaysOutAreOffered breaks a sled: what does not fit any more, and the ways out, are
// offered on one key each, and every other key means what it meant before.
func TestWaysOutAreOffered(t *testing.T) {
	t.Parallel()
	const now = 190*time.Second + ten
	for _, tt := range []struct{ key, want string }{
		{"*", "floor.IntervalChanged"},
		{"/", "floor.PullCut"},
		{"m", "floor.Pressed"},
		{"3", "floor.Pressed"},
		{"+", ""}, // nobody is chosen
		{"esc", ""},
	} {
		c := roomOf(midClass(t, 4, 4), 190*time.Second)
		r := c.live
		c.look()
		cmd := r.ask(now, floor.Out{On: "A"})
		r.keep(cmd().(kept))
		c.look()
		if c.strip == nil || !c.strip.offers {
			t.Fatal("with a sled less no way out is offered")
		}
		if f := r.st.Fit(now); c.strip.also(r, c.scene) != f.Short() {
			t.Errorf("beside the ways stands %q, want %q", c.strip.also(r, c.scene), f.Short())
		}
		got := ""
		if cmd, _ := c.press(tt.key, tt.key, now+time.Second); cmd != nil {
			done := cmd().(kept)
			got = fmt.Sprintf("%T", done.events[0].E)
			r.keep(done)
		}
		c.look()
		if got != tt.want {
			t.Errorf("%s became %q (%s), want %s", tt.key, got, r.say, tt.want)
		}
		if fits := r.st.Fit(now+2*time.Second) == nil; fits != (tt.key == "*" || tt.key == "/") || fits && c.strip != nil {
			t.Errorf("after %s it fits: %v, the ways are offered: %v", tt.key, fits, c.strip != nil)
		}
	}
}

// TestBareFirstIsOneKey has Maren on the empty sled, well under the time: a step more is
// offered, and one key takes it; left alone it is not offered again for that press.
func TestBareFirstIsOneKey(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct{ key, want string }{{".", "floor.LoadChanged"}, {"esc", ""}, {"e", "floor.Pressed"}} {
		p := class(everyPart(), 4, 4)
		p.Parts[0].Spec.Stations[0].Loads = []session.Ask{{Basis: session.OfMax, Share: 55 * measure.Percent}}
		bare := &p.Parts[0].Places[0].Spots[0]
		bare.Asked, bare.Stack, bare.Moves = 0, nil, bare.Tare
		r := begin(t, p)
		r.do(20*time.Second, floor.Press{Who: crew[0]})
		c := roomOf(r, 40*time.Second)
		c.look()
		if c.strip == nil || !c.strip.offers {
			t.Fatalf("nothing is offered: %+v", c.scene.Tiles[0])
		}
		got := ""
		if cmd, _ := c.press(tt.key, tt.key, 41*time.Second+ten); cmd != nil {
			done := cmd().(kept)
			got = fmt.Sprintf("%T", done.events[0].E)
			c.live.keep(done)
		}
		c.look()
		if got != tt.want || (c.strip != nil) != (tt.key == "e") {
			t.Errorf("%s became %q (%s), want %s; the offer stands: %v", tt.key, got, c.live.say, tt.want, c.strip != nil)
		}
	}
}

// TestLettersArePresses holds that letters are presses in every state of a run,
// also while a strip, a figure, the list or the emergency lines are open.
func TestLettersArePresses(t *testing.T) {
	t.Parallel()
	for name, open := range map[string]func(c *classroom){
		"wall":      func(*classroom) {},
		"strip":     func(c *classroom) { c.strip = &strip{who: 2} },
		"figure":    func(c *classroom) { c.strip = &strip{who: 2, asking: &item{does: "time by hand"}} },
		"list":      func(c *classroom) { c.list = 1 },
		"emergency": func(c *classroom) { c.alarm = true },
	} {
		c := roomOf(midClass(t, 4, 4), 190*time.Second)
		c.look()
		open(c)
		cmd, _ := c.press("m", "m", 190*time.Second+ten)
		if cmd == nil {
			t.Errorf("%s: the letter was no press: %s", name, c.live.say)
			continue
		}
		if p, ok := cmd().(kept).events[0].E.(floor.Pressed); !ok || p.Who != "Maren" {
			t.Errorf("%s: the letter became %v", name, p)
		}
	}
}
