// Package pages has the system back the heap with few large pages of memory instead of
// many small ones. The first touch of a page is a fault; on a virtual machine it costs
// some 15 µs, which with small pages is a third of a rehearsal and half of an answer
// over ten years.
//
// Contract: it changes how long a program takes and nothing else. Where a system has no
// such pages nothing happens.
//
//	go pages.Reserve(8 << 20)
package pages
