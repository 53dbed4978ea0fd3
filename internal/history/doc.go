// Package history reads all the runs of a home and gathers them into one answer:
// on every core, and with a cache of what it has read.
//
// Contract: the logs are right and the cache is not. A summary from the cache
// counts only while the files of its run have the names, sizes and times that they
// had; a cache that is missing, damaged or from another version costs time and nothing
// else. It stands in the home as [CacheName], its owner's alone, since it holds
// efforts: whoever deletes a person from a home deletes it.
//
// A log that is as the logbook writes it, undamaged, is read by a scanner of its own
// that is many times faster than the logbook's: it decodes what many logs have in
// common once. At the first thing it does not know it gives up and the logbook reads
// the file. The splits come from the engine either way.
//
//	h, faults, err := history.Read(home, func(done, all int) { … })
package history
