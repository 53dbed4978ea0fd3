// Package review reads what a run says: splits, fade, score, what comes next,
// training load and a person's history. Everything is worked out again from the
// rounds each time; nothing is stored that a correction could make wrong.
//
// Contract: [Make] looks at a run at one room time and keeps nothing of it. Times
// in a [Report] count from the first GO. A figure that does not exist is nil or
// [floor.None], never 0. Struck rounds count nowhere, rounds done without a time
// count as in time and nowhere else, rounds nobody pressed count nowhere.
//
//	report := review.Make(state, now)
//	fmt.Println(report.Headline())
package review
