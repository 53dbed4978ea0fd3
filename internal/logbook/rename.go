package logbook

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"hawser/internal/floor"
)

// rename returns an event in which a person bears another name, in every field that
// holds a person, and in every text that speaks of one.
func rename(e floor.Event, from, to string) floor.Event {
	is := func(who string) string {
		if who == from {
			return to
		}
		return who
	}
	switch x := e.(type) {
	case floor.Opened:
		x.Plan = renamePlan(x.Plan, from, to)
		return x
	case floor.Pressed:
		x.Who = is(x.Who)
		return x
	case floor.AttemptMissed:
		x.Who = is(x.Who)
		return x
	case floor.Struck:
		x.Who, x.Reason = is(x.Who), renameText(x.Reason, from, to)
		return x
	case floor.Given:
		x.Who, x.To = is(x.Who), is(x.To)
		return x
	case floor.Arrived:
		x.Who = is(x.Who)
		return x
	case floor.GuestAdded:
		x.Who = is(x.Who)
		return x
	case floor.Left:
		x.Who = is(x.Who)
		return x
	case floor.LoadChanged:
		x.Who = is(x.Who)
		return x
	case floor.DistanceCut:
		x.Who = is(x.Who)
		return x
	case floor.Swapped:
		x.Who = is(x.Who)
		return x
	case floor.SledLeft:
		x.Who = is(x.Who)
		return x
	case floor.LaneChanged:
		x.Who = is(x.Who)
		return x
	case floor.Typed:
		x.Who = is(x.Who)
		return x
	case floor.Partial:
		x.Who = is(x.Who)
		return x
	case floor.EffortGiven:
		x.Who = is(x.Who)
		return x
	case floor.PainGiven:
		x.Who, x.Site = is(x.Who), renameText(x.Site, from, to)
		return x
	case floor.Noted:
		x.Who, x.Text = is(x.Who), renameText(x.Text, from, to)
		return x
	case floor.Started, floor.HeatStarted, floor.Undone, floor.Held, floor.Resumed, floor.Restarted,
		floor.SledOut, floor.SledBack, floor.PartSkipped, floor.PartLengthened, floor.PartEnded,
		floor.Slept, floor.Recovered, floor.Ended: // about nobody
	}
	return e
}

// who is the person that a log adds, or that a private event is about; "" for others.
func who(e floor.Event) string {
	switch x := e.(type) {
	case floor.GuestAdded:
		return x.Who
	case floor.EffortGiven:
		return x.Who
	case floor.PainGiven:
		return x.Who
	case floor.Noted:
		return x.Who
	}
	return ""
}

// renamePlan changes a plan in place; it was read for this alone.
func renamePlan(plan *floor.Plan, from, to string) *floor.Plan {
	if plan == nil {
		return nil
	}
	for i := range plan.People {
		if plan.People[i].Name == from {
			plan.People[i].Name = to
		}
	}
	plan.Session, plan.Title = renameText(plan.Session, from, to), renameText(plan.Title, from, to)
	for i := range plan.Parts {
		spec := &plan.Parts[i].Spec
		spec.Title = renameText(spec.Title, from, to)
		groups := slices.Concat(spec.Waves, spec.Sides)
		for _, pin := range spec.Lanes {
			groups = append(groups, pin.Who)
		}
		for _, group := range groups {
			for k := range group {
				if group[k] == from {
					group[k] = to
				}
			}
		}
	}
	return plan
}

// renameText changes a name where it stands as a word of a text, in any case, with
// or without the s of the possessive.
func renameText(text, from, to string) string {
	var b strings.Builder
	for i := 0; i < len(text); {
		end := i + len(from)
		if end <= len(text) && strings.EqualFold(text[i:end], from) && wordEnds(text[:i]) && wordBegins(text[end:]) {
			b.WriteString(to)
			i = end
			continue
		}
		_, size := utf8.DecodeRuneInString(text[i:])
		b.WriteString(text[i : i+size])
		i += size
	}
	return b.String()
}

// wordEnds reports whether a new word can begin after text.
func wordEnds(text string) bool {
	r, size := utf8.DecodeLastRuneInString(text)
	return size == 0 || !unicode.IsLetter(r) && !unicode.IsDigit(r)
}

// wordBegins reports whether the word before text was at its end, but for an s.
func wordBegins(text string) bool {
	r, size := utf8.DecodeRuneInString(text)
	if r == 's' || r == 'S' {
		r, size = utf8.DecodeRuneInString(text[size:])
	}
	return size == 0 || !unicode.IsLetter(r) && !unicode.IsDigit(r)
}
