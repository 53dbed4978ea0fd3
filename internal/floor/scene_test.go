package floor_test

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"hawser/internal/floor"
	"hawser/internal/measure"
	"hawser/internal/presses"
	"hawser/internal/session"

	"github.com/pelletier/go-toml/v2"
	"golang.org/x/tools/txtar"
)

// A class as those see it who are in it: what is kept, what is heard, and what wall and
// desk say at some instants. testdata/README.md has the grammar.
func TestScenes(t *testing.T) {
	t.Parallel()
	tales(t, "scenes", func(t *testing.T, parts []txtar.File) string {
		t.Helper()
		return watch(t, string(parts[0].Data), parts[1].Data, string(parts[2].Data))
	}, "class", "presses", "looks", "scenes")
}

// watch plays a class and prints what is seen of it.
func watch(t *testing.T, class string, script []byte, looks string) string {
	t.Helper()
	plan := readScene(t, class)
	cast := presses.Cast{Sleds: []string{"A", "B", "C"}}
	for _, p := range plan.People {
		cast.People = append(cast.People, p.Name)
	}
	lines, err := presses.Parse("presses", script, cast)
	if err != nil {
		t.Fatal(err)
	}
	played := presses.Play(floor.Opened{Plan: plan}, lines)
	v := view{zero: firstGo(played.Events)}
	for _, r := range played.Refused {
		fmt.Fprintf(&v, "refused %s: %s\n", v.clock(v.zero+r.Line.At), r.Word)
	}
	for _, r := range played.Warned {
		fmt.Fprintf(&v, "warned %s: %s\n", v.clock(v.zero+r.Line.At), r.Word)
	}
	v.events(t, played.Events)
	v.moments(played)
	for f := range strings.FieldsSeq(looks) {
		at, err := measure.ParseClock(f)
		if err != nil {
			t.Fatal(err)
		}
		v.look(played.Events, v.zero+at)
	}
	v.rounds(played)
	return v.String()
}

// readScene reads the parts of a class and who stands where: NAME=SLED, with /HEAT and
// ,KILOGRAMS on the sled where they are not 1 and 40.
func readScene(t *testing.T, class string) *floor.Plan {
	t.Helper()
	var people struct{ People string }
	if err := toml.Unmarshal([]byte(class), &people); err != nil {
		t.Fatal(err)
	}
	_, rest, _ := strings.Cut(class, "\n")
	s, err := session.Parse("class", []byte("title = \"scene\"\naim = \"conditioning\"\n"+rest))
	if err != nil {
		t.Fatal(err)
	}
	return floor.ScenePlan(t, s.Parts, strings.Fields(people.People))
}

func firstGo(events []floor.Stamped) time.Duration {
	for _, e := range events {
		if started, ok := e.E.(floor.Started); ok {
			return started.At
		}
	}
	return 0
}

// view prints times as seconds from the first GO, 0 being when it was planned.
type view struct {
	strings.Builder

	zero time.Duration
}

func (v *view) clock(at time.Duration) string {
	if at == floor.None {
		return "-"
	}
	return fmt.Sprintf("%.4g", (at - v.zero).Seconds())
}

func length(d time.Duration) string {
	if d == floor.None {
		return "-"
	}
	return fmt.Sprintf("%.4g", d.Seconds())
}

// events prints what a log would hold.
func (v *view) events(t *testing.T, events []floor.Stamped) {
	t.Helper()
	v.WriteString("kept\n")
	for _, e := range events[1:] {
		fields, err := json.Marshal(e.E)
		if err != nil {
			t.Fatal(err)
		}
		fmt.Fprintf(v, " %s %s %s\n", v.clock(e.T), strings.TrimPrefix(fmt.Sprintf("%T", e.E), "floor."), fields)
	}
}

var kinds = map[floor.Kind]string{
	floor.Begin: "begin", floor.OwnBegin: "own begin", floor.RestBegins: "rest begins",
	floor.TenLeft: "ten left", floor.StopSoon: "stop soon", floor.StopOver: "stop over", floor.RestOver: "rest over",
	floor.HeatEnds: "heat ends", floor.PartEnds: "part ends", floor.AllDone: "all done",
}

// moments prints what is heard, asked for every half second as the class goes on; of the
// counts to a start, the last.
func (v *view) moments(played presses.Played) {
	v.WriteString("heard\n")
	s := floor.New()
	next := 0
	const step = time.Second / 2
	for at := time.Duration(0); at <= played.Now; at += step {
		heard := s.Due(nil, at, at+step)
		for next < len(played.Events) && played.Events[next].T <= at+step {
			s.Apply(played.Events[next])
			next++
		}
		for _, m := range s.Due(nil, at, at+step) { // what is known only by what has just happened
			if !slices.Contains(heard, m) {
				heard = append(heard, m)
			}
		}
		for _, m := range heard {
			if m.Kind == floor.CountDown && m.Count > 1 {
				continue
			}
			word := kinds[m.Kind]
			if m.Kind == floor.CountDown {
				word = "one second left"
			}
			fmt.Fprintf(v, " %s %s part %d round %d", v.clock(m.At), word, m.Part, m.Round)
			if m.Person >= 0 {
				v.WriteString(" " + s.Plan().People[m.Person].Name)
			}
			v.WriteString("\n")
		}
	}
}

var (
	phases = map[floor.Phase]string{
		floor.Waiting: "waiting", floor.CountIn: "count-in", floor.Working: "working", floor.Warming: "warming up",
		floor.Resting: "resting", floor.Holding: "holding", floor.Changing: "changing", floor.Over: "over",
	}
	tiles = [...]string{"idle", "ready", "works", "done", "rests", "waits", "stands", "sat out", "away", "left", "through"}
)

// look prints wall and desk at a time, by what had happened until then.
func (v *view) look(events []floor.Stamped, at time.Duration) {
	s := floor.New()
	for _, e := range events {
		if e.T <= at {
			s.Apply(e)
		}
	}
	f := s.Face(at)
	way := "left"
	if f.Up {
		way = "gone"
	}
	fmt.Fprintf(v, "at %s %s, part %d heat %d of %d round %d of %d, %s %s, next %s, ends %s\n", v.clock(at), phases[f.Phase],
		f.Part, f.Heat, f.Heats, f.Round, f.Rounds, length(f.Left), way, v.clock(f.Next), v.clock(f.Ends))
	for _, tile := range s.Tiles(nil, max(1, s.Part()), at) {
		v.tile(s, &tile)
	}
}

func (v *view) tile(s *floor.State, tile *floor.Tile) {
	fmt.Fprintf(v, " %s %s %d/%d station %d on %s %g kg", s.Plan().People[tile.Person].Name, tiles[tile.State], tile.Round, tile.Rounds,
		tile.Station, tile.Place.On, tile.Place.Moves.KG())
	for _, x := range []struct {
		word string
		at   time.Duration
	}{{"since", tile.Since}, {"due", tile.Due}} {
		if x.at != floor.None {
			fmt.Fprintf(v, " %s %s", x.word, v.clock(x.at))
		}
	}
	if tile.Last != floor.None {
		fmt.Fprintf(v, " last %s margin %s", length(tile.Last), length(tile.Margin))
	}
	if tile.Ahead > 0 {
		fmt.Fprintf(v, " behind %d", tile.Ahead)
	}
	if tile.AllLegs > 0 {
		fmt.Fprintf(v, " leg %d/%d", tile.Legs, tile.AllLegs)
	}
	if n := tile.Next; n != nil && (n.On != tile.Place.On || n.Moves != tile.Place.Moves) {
		fmt.Fprintf(v, " then %s %g kg", n.On, n.Moves.KG())
	}
	if len(tile.On)+len(tile.Off) > 0 {
		fmt.Fprintf(v, " put on %v take off %v", tile.On, tile.Off)
	}
	v.WriteString("\n")
}

// rounds prints what came of it, a part after the other.
func (v *view) rounds(played presses.Played) {
	s := played.State
	for partNo := 1; partNo <= len(s.Plan().Parts); partNo++ {
		fmt.Fprintf(v, "part %d, %d rounds, cap %s, end %s\n", partNo, s.Length(partNo), length(s.Limit(partNo)), v.clock(s.PartEnd(partNo)))
		for i, p := range s.Plan().People {
			for _, r := range s.Rounds(partNo, i, played.Now) {
				fmt.Fprintf(v, " %s %d station %d on %s %g kg: %s %s %s", p.Name, r.Round, r.Station, r.On, r.Moves.KG(),
					v.clock(r.Starts), length(r.Work), r.State)
				v.more(&r)
			}
		}
	}
}

// more prints what only some rounds have.
func (v *view) more(r *floor.Round) {
	for _, x := range []struct {
		word string
		d    time.Duration
	}{{"margin", r.Margin}, {"waited", r.Waited}, {"rest", r.Rest}} {
		if x.d != floor.None {
			fmt.Fprintf(v, " %s %s", x.word, length(x.d))
		}
	}
	if r.Due != floor.None {
		fmt.Fprintf(v, " due %s", v.clock(r.Due))
	}
	if r.Ends != floor.None {
		fmt.Fprintf(v, " until %s", v.clock(r.Ends))
	}
	if r.Movement != "forward drag" {
		v.WriteString(" " + r.Movement)
	}
	if r.Distance > 0 && r.Distance != 30*measure.Metre {
		fmt.Fprintf(v, " of %v", r.Distance)
	}
	if r.Metres > 0 || r.Reps > 0 {
		fmt.Fprintf(v, " came to %v, %d reps", r.Metres, r.Reps)
	}
	for _, stop := range r.Stops {
		fmt.Fprintf(v, " stood %s to %s", v.clock(stop.From), v.clock(stop.To))
	}
	for _, leg := range r.Legs {
		fmt.Fprintf(v, " leg at %s", v.clock(leg))
	}
	if r.ByHand {
		v.WriteString(" by hand")
	}
	if r.Unlikely {
		v.WriteString(" unlikely")
	}
	v.WriteString("\n")
}
