// Package week fits pulls into a usual week of lifting: which session goes on
// which day, what stands too close together, when a week is a lighter one, and
// what would fill an empty day.
//
// Contract: [Make] looks at one week that begins on a Monday, as the coach's
// week.toml has it, with what was trained lately. It proposes and flags; it
// changes nothing. The rules are common practice of the trade, the limits of hours
// and stations house defaults.
//
//	page := week.Make(week.Facts{File: file, Sessions: sessions, Monday: monday})
//	for _, f := range page.Flags { fmt.Println(f.Text) }
package week
