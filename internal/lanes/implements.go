package lanes

import (
	"slices"

	"hawser/internal/load"
	"hawser/internal/movement"
	"hawser/internal/session"
)

// implements deals the implements of the kit to the stations: those named first;
// then one each in station order, in kit order; then the rest one at a time to
// the station with most people per implement: as many people are at each. Where
// there are fewer than stations, stations share one.
func (p *planner) implements() [][]load.Implement {
	stations := p.spec.Stations
	dealt := make([][]load.Implement, len(stations))
	can := make([][]load.Implement, len(stations))
	named := make([]bool, len(stations))
	taken := map[string]int{}
	for i := range stations {
		m, _ := movement.Find(stations[i].Movement)
		all, findings := load.Implements(p.in.Kit, m.Need)
		for _, f := range findings {
			f.Part, f.Station = p.number, i+1
			p.findings = append(p.findings, f)
		}
		can[i] = all
		for _, on := range all {
			if slices.ContainsFunc(stations[i].On, func(name string) bool { return name == on.Name || isCopy(on.Name, name) }) {
				dealt[i] = append(dealt[i], on)
				taken[on.Name]++
			}
		}
		named[i] = len(dealt[i]) > 0
	}
	for i := range stations {
		if !named[i] && len(can[i]) > 0 {
			on := leastTaken(can[i], taken)
			dealt[i] = []load.Implement{on}
			taken[on.Name]++
		}
	}
	for {
		best, at := load.Implement{}, -1
		for i := range stations {
			free := slices.IndexFunc(can[i], func(on load.Implement) bool { return taken[on.Name] == 0 })
			if named[i] || free < 0 {
				continue
			}
			if at < 0 || len(dealt[i]) < len(dealt[at]) {
				best, at = can[i][free], i
			}
		}
		if at < 0 {
			return dealt
		}
		dealt[at] = append(dealt[at], best)
		taken[best.Name]++
	}
}

// isCopy reports whether an implement is one of several of that name.
func isCopy(implement, name string) bool {
	return len(implement) > len(name)+1 && implement[:len(name)+1] == name+" " && implement[len(name)+1] >= '2' && implement[len(name)+1] <= '9'
}

// leastTaken returns the first implement that the fewest stations have.
func leastTaken(can []load.Implement, taken map[string]int) load.Implement {
	best := can[0]
	for _, on := range can[1:] {
		if taken[on.Name] < taken[best.Name] {
			best = on
		}
	}
	return best
}

// pinned returns the implement that a person is held to at a station, "" for none:
// by the coach's hand, else by the session's lanes, else by its waves.
func (p *planner) pinned(station int, athlete string) string {
	for i := len(p.in.Edits) - 1; i >= 0; i-- {
		if e := &p.in.Edits[i]; e.On != "" && e.about(p.number, station, athlete) {
			return e.On
		}
	}
	at := slices.IndexFunc(p.spec.Lanes, func(l session.LanePin) bool { return slices.Contains(l.Who, athlete) })
	if at >= 0 {
		return p.spec.Lanes[at].On
	}
	if _, j, ok := p.wave(athlete); ok && len(p.stations) >= station && j < len(p.stations[station-1].On) {
		return p.stations[station-1].On[j].Name
	}
	return ""
}

// wave returns which wave a person starts in and which implement of the station
// that is: a wave is written in the order of the kit.
func (p *planner) wave(athlete string) (wave, on int, ok bool) {
	for w, names := range p.spec.Waves {
		if j := slices.Index(names, athlete); j >= 0 {
			return w, j, true
		}
	}
	return 0, 0, false
}

// heatOf returns the heat that the coach's hand put a person in, 0 for none.
func (p *planner) heatOf(athlete string) int {
	for i := len(p.in.Edits) - 1; i >= 0; i-- {
		if e := &p.in.Edits[i]; e.Heat > 0 && e.Part == p.number && e.Athlete == athlete {
			return e.Heat
		}
	}
	return 0
}
