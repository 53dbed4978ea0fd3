// Package logbook keeps what happened: the events of a run as lines on the disk,
// written so that nothing shown as kept is lost, and read so that nothing wrong is
// believed. It is the only package that writes below the log folder of a home.
//
// # Format
//
// One file a run, in log/YYYY/, named by a UTC time and the run's ULID; one line of
// JSON an event, only ever added to. Every file and folder is its owner's alone.
//
//	{"n":1,"t":0,"at":"2026-11-25T18:02:00.000+01:00","e":"opened","v":1,"run":"01KB…","wall":…,"plan":{…},"p":"","c":"5d0e1a77"}
//	{"n":2,"t":93412,"at":"2026-11-25T18:03:33.412+01:00","e":"pressed","who":"Maren","part":1,"round":1,"as":"done","p":"5d0e1a77","c":"0b19c2d4"}
//	 |     |          |                                    |             the event's own fields                      |              |
//	 |     |          wall clock at opened, plus t         name          (v: format, on line 1 alone)                |              CRC-32C of this
//	 from 1 room time in ms                                                                                          c of the line  line before ,"c":
//	                                                                                                                 before
//
// A line stands for itself by c, in its place by n and p, and in its run by at less
// t, which is the same on every line. So a missing, doubled, reordered or foreign
// line is noticed without any header or trailer that must agree with the body, and
// a whole line is kept even where its neighbour is gone. Effort, pain and notes
// stand in a second file, ….private.jsonl, in the same format with numbers of
// its own. The file paths in a plan's kit and house rules are left out.
//
// A file whose v is higher than this program's, or with an event that this program
// cannot read, is from a newer program: it is read, and never added to.
//
// # Contract
//
// Room time is kept to the millisecond; round T before you make an event, so that
// the class now and its replay agree. An event is kept when [Writer.Append] returns
// nil: it is written and the file is synced. After an error the event waits in
// memory, in order, and is written by the next Append that can; the class goes on,
// and [Writer.State] says what the wall should. A file whose sync failed once is
// never synced again, since a second sync may say yes with the data gone: the run
// goes on in a new file that repeats every event. A reader takes the longest
// file of a run, and fills its gaps from the others.
//
// Nothing here runs by itself or reads a clock. Append from one goroutine of your
// own: a sync can take seconds, and must not stand in the screen's way.
//
//	home, err := logbook.Open(folder)            // one program a home
//	w, err := home.Create(opened)
//	err = w.Append(events...)                    // nil: kept
//	log, err := logbook.Load(w.State().Path)     // log.Events, log.Damage
package logbook
