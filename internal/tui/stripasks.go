package tui

import "hawser/internal/floor"

// pains asks how much and then where. The first digit is kept at once; where it
// hurts is a second event, for whoever has the time.
func pains(who string) []item {
	var list []item
	for n := range 11 {
		key := itoa(n)
		if n == 10 {
			key = "+"
		}
		pain := item{key: key, does: "", command: floor.Pain{Who: who, Pain: n}}
		if n > 0 {
			pain.then = sites(who, n)
		}
		if n == 0 || n == 10 {
			pain.does = "pain " + itoa(n)
		}
		list = append(list, pain)
	}
	return list
}

func sites(who string, pain int) []item {
	var list []item
	for i, site := range []string{"foot", "knee", "hip", "back", "chest", "shoulder", "elbow", "hand", "head"} {
		list = append(list, item{key: itoa(i + 1), does: site, command: floor.Pain{Who: who, Pain: pain, Site: site}})
	}
	return list
}

// lastBegun is the round of a person that began last, 0 for whichever that is.
func lastBegun(scene *Scene, t *floor.Tile) int {
	if rounds := scene.Rounds[t.Person]; len(rounds) > 0 {
		return rounds[len(rounds)-1].Round
	}
	return 0
}

// reasons is why a round is not counted: kept with it, after it has been struck.
func reasons(who string, round int) []item {
	var list []item
	for i, why := range []string{"cut short", "wrong load", "false start", "helped", "not theirs"} {
		list = append(list, item{key: itoa(i + 1), does: why, command: floor.Strike{Who: who, Round: round, Reason: why}})
	}
	return list
}
