// Package review reads what a run says: splits, fade, score, what comes next,
// training load and a person's history. Everything is worked out again from the
// rounds each time; nothing is stored that a correction could make wrong.
//
// Contract: [Make] looks at a run at one room time and keeps nothing of it. Times
// in a [Report] count from the first GO. A figure that does not exist is nil or
// [floor.None], never 0. Struck rounds count nowhere, rounds done without a time
// count as in time and nowhere else, rounds nobody pressed count nowhere.
//
// Where the trade has no rule, this is what the package does: in intervals, whose
// splits the clock sets, fade and spread are of the time that a metre or a repetition
// took, and there are none where nobody typed what was done; fade and spread go
// across no change of load, movement or station; last time is the newest run before
// on the same movement, distance, surface and layout; an effort that two runs in a row
// lack keeps a load from going up in every format; sets give no re-test hint.
//
//	report := review.Make(state, now)
//	fmt.Println(report.Headline())
package review
