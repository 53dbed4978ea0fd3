package floor

import (
	"encoding/json"
	"flag"
	"fmt"
	"hash/crc32"
	"io/fs"
	"math/rand/v2"
	"os"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"hawser/internal/house"
	"hawser/internal/kit"
	"hawser/internal/lanes"
	"hawser/internal/roster"
	"hawser/internal/session"
	"hawser/sessions"
)

// TestPinned holds that a few hundred classes, drawn once and for all with every
// command there is, come to what they came to before, in all that anyone can see of
// them. The stories and the other tests say what is right; this one tells that the
// edge of a rule has moved. Where that is meant, -update writes the sums anew.
func TestPinned(t *testing.T) {
	t.Parallel()
	var b strings.Builder
	commands := rapid.Custom(anyCommand)
	for i, part := range parts() {
		for seed := range 6 {
			fmt.Fprintf(&b, "%d %s, class %d: %08x\n", i, part.Format, seed, sumOf(pinnedClass(part, 10*i+seed, commands)))
		}
	}
	for _, name := range []string{"slack-water", "heavy-anchor", "two-quays", "spring-tide", "long-oars"} {
		fmt.Fprintf(&b, "plan of %s: %08x\n", name, sumOf(demoPlan(t, name)))
	}
	const file = "testdata/pinned.txt"
	if f := flag.Lookup("update"); f.Value.String() == "true" { // the stories have it
		if err := os.WriteFile(file, []byte(b.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	was := strings.Split(string(want), "\n")
	for i, line := range strings.Split(b.String(), "\n") {
		if i >= len(was) || line != was[i] {
			t.Errorf("%s line %d was %q and is now %q; if that is meant: go test ./internal/floor -run TestPinned -update", file, i+1, was[min(i, len(was)-1)], line)
		}
	}
}

func sumOf(text string) uint32 { return crc32.ChecksumIEEE([]byte(text)) }

// pinnedClass is one class of random commands and all that could be seen of it.
func pinnedClass(part session.Part, seed int, commands *rapid.Generator[Command]) string {
	r := rand.New(rand.NewPCG(17, uint64(seed)))
	p := one(part, "Ada Bo Cleo Dag", "A B A -")
	if seed%3 == 0 {
		p.Parts = append(p.Parts, p.Parts[0])
	}
	s := New()
	s.Apply(Stamped{N: 1, E: Opened{Plan: p}})
	var b strings.Builder
	now := time.Duration(0)
	give := func(c Command) {
		events, err := Decide(s, c, now)
		fmt.Fprintf(&b, "%v %T %v: %v\n", now, c, c, err)
		for _, e := range events {
			fmt.Fprintf(&b, "  %d %v %T %+v\n", e.N, e.T, e.E, e.E)
			s.Apply(e)
		}
	}
	give(Go{})
	for k := range 45 {
		now += time.Duration(r.IntN(18_000)) * time.Millisecond
		give(commands.Example(seed*100 + k))
		if k%5 == 0 {
			b.WriteString(dump(s, now))
			for _, m := range s.Due(nil, now-time.Minute, now+2*time.Minute) {
				fmt.Fprintf(&b, "due %+v\n", m)
			}
		}
	}
	now += 10 * time.Minute
	give(Sleep{time.Second})
	b.WriteString(dump(s, now))
	return b.String()
}

// demoPlan is the plan of a class of the made-up home, as JSON.
func demoPlan(t *testing.T, name string) string {
	t.Helper()
	read := func(file string) []byte {
		data, err := fs.ReadFile(sessions.Home(), file)
		if err != nil {
			t.Fatal(err)
		}
		return data
	}
	k, err1 := kit.Parse("kit.toml", read("kit.toml"))
	r, err2 := roster.Parse("roster.toml", read("roster.toml"))
	h, err3 := house.Parse("house.toml", read("house.toml"))
	one, err4 := session.Parse(name, read("sessions/"+name+".toml"))
	if err1 != nil || err2 != nil || err3 != nil || err4 != nil {
		t.Fatal(err1, err2, err3, err4)
	}
	roster.Resolve(r, k)
	here := []string{}
	for i, a := range r.Athletes {
		if i != 2 && i < 7 {
			here = append(here, a.Name)
		}
	}
	b := lanes.Make(lanes.Input{Session: one, Roster: r, Kit: k, House: h, Here: here})
	plan, err := json.Marshal(MakePlan(b, r, k, h, here))
	if err != nil {
		t.Fatal(err)
	}
	return string(plan)
}
