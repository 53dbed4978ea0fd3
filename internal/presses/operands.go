package presses

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"hawser/internal/floor"
	"hawser/internal/measure"
	"hawser/internal/movement"
)

func arrive(r *reader) floor.Command {
	c := floor.Arrive{Who: r.person()}
	if r.more() {
		r.word("warm-up")
		c.WarmUp = r.clock("the warm-up")
	}
	return c
}

// guest takes a name that nobody has; the lines after it may use it.
func guest(r *reader) floor.Command {
	at := r.next
	name, _ := r.take("a name")
	if slices.Contains(r.cast.People, name) {
		r.fail(at, "%q is in the class already; write another name for the guest", name)
	}
	r.cast.People = append(r.cast.People, name)
	return floor.Guest{Who: name}
}

func miss(r *reader) floor.Command {
	c := floor.Miss{Who: r.person()}
	if r.more() {
		r.word("at")
		c.At = r.distance()
	}
	return c
}

// partial takes metres, or repetitions.
func partial(r *reader) floor.Command {
	c := floor.Amount{Who: r.person()}
	if n := len(r.words); r.fault == "" && n-r.next == 2 && r.words[n-1].text == "reps" {
		c.Reps = r.count("the repetitions", 0, 10_000)
		r.next++
	} else {
		c.Metres = r.distance()
	}
	return c
}

func swap(r *reader) floor.Command {
	who, at := r.person(), r.next
	name := r.rest()
	if _, ok := movement.Find(name); !ok {
		r.fail(at, "no movement is called %q; see: hawser help files", name)
	}
	return floor.Swap{Who: who, Movement: name}
}

// person reads a name of the cast.
func (r *reader) person() string {
	return r.one("a name", "nobody here is called %q; there are %s", r.cast.People)
}

// sled reads a sled's name.
func (r *reader) sled() string {
	return r.one("a sled's name", "no sled is called %q; there are %s", r.cast.Sleds)
}

func (r *reader) one(what, unknown string, names []string) string {
	at := r.next
	name, ok := r.take(what)
	if ok && !slices.Contains(names, name) {
		r.fail(at, unknown, name, strings.Join(names, ", "))
	}
	return name
}

// word reads that word and no other.
func (r *reader) word(want string) {
	at := r.next
	if got, ok := r.take(strconv.Quote(want)); ok && got != want {
		r.fail(at, "%q does not belong here; write %q", got, want)
	}
}

func (r *reader) round() int { return r.count("the round", 1, 10_000) }

// effort reads an effort from 0 to 10, halves too.
func (r *reader) effort() float64 {
	at := r.next
	text, ok := r.take("the effort")
	x, err := strconv.ParseFloat(strings.Replace(text, ",", ".", 1), 64)
	if ok && (err != nil || !(x >= 0 && x <= 10) || x*2 != math.Trunc(x*2)) {
		r.fail(at, "the effort is %q; write a number from 0 to 10, such as 7 or 9.5", text)
	}
	return x
}

// scale reads a number from 0 to 10.
func (r *reader) scale(what string) int { return r.count(what, 0, 10) }

func (r *reader) count(what string, low, high int) int {
	at := r.next
	text, ok := r.take(what)
	n, err := strconv.Atoi(text)
	if ok && (err != nil || n < low || n > high) {
		r.fail(at, "%s is %q; write a whole number from %d to %d", what, text, low, high)
	}
	return n
}

// clock reads a time such as 0:44.7.
func (r *reader) clock(what string) time.Duration {
	at := r.next
	text, ok := r.take(what)
	if !ok {
		return 0
	}
	d, err := measure.ParseClock(text)
	if err != nil {
		r.fail(at, "%s: %v", what, err)
	}
	return d
}

func (r *reader) share() measure.Share {
	at := r.next
	text, ok := r.take("a percentage")
	if !ok {
		return 0
	}
	s, err := measure.ParseShare(text)
	if err != nil {
		r.fail(at, "%v", err)
	} else if s <= 0 || s >= measure.Whole {
		r.fail(at, "%s cannot be taken off; write a share such as 10%%", text)
	}
	return s
}

func (r *reader) distance() measure.Distance {
	at := r.next
	d, err := measure.ParseDistance(r.rest())
	if err != nil {
		r.fail(at, "%v", err)
	}
	return d
}

// change reads a mass with its sign, such as +5 kg.
func (r *reader) change() measure.Mass {
	at := r.next
	text := r.rest()
	sign := measure.Mass(1)
	switch {
	case strings.HasPrefix(text, "+"):
	case strings.HasPrefix(text, "-"), strings.HasPrefix(text, "−"):
		sign = -1
	default:
		r.fail(at, "%q has no sign; write +5 kg or -5 kg", text)
	}
	m, err := measure.ParseMass(strings.TrimLeft(text, "+-−"))
	if err != nil {
		r.fail(at, "%v", err)
	}
	return sign * m
}
