// Command mutants breaks a package in one small place after the other and tells
// which of these mutants its tests do not notice:
//
//	go run ./.ci/mutants [-short] [-sample 150] [-again FILE] internal/logbook [internal/floor,internal/review …]
//
// The tests are those of the package, and where others follow after a comma, theirs too.
// All mutants of a package are compiled into one test binary, each asleep behind a
// number; the environment wakes one. The tests are run once each without any, to see
// how long each takes and which mutants it passes. After that a mutant costs only a run of the
// tests that pass it, the quick ones first, until one notices. What is changed:
// comparisons (their boundary and their sense), and/or, conditions, arithmetic, counting, and
// whole statements left out. Constants, panics and generated text stay as they are.
//
// A mutant that changes nothing anyone could see stands with the reason in equivalent.txt and
// does not count. Each of those is tried too: one that is noticed, or is no longer
// in the code, is a fault of the list.
package main

import (
	"errors"
	"flag"
	"fmt"
	"math/rand/v2"
	"os"
	"runtime"
	"slices"
	"strings"
	"sync"
	"time"
)

// enough is the share of mutants that the tests of a package have to kill, in percent.
const enough = 90

func main() {
	sample := flag.Int("sample", 0, "try so many of the mutants, chosen at random but always the same; 0: all")
	again := flag.String("again", "", "try only those that an earlier run has printed into this file")
	short := flag.Bool("short", false, "run the short tests")
	flag.Parse()
	failed := flag.NArg() == 0
	for _, folders := range flag.Args() {
		if err := try(strings.Split(folders, ","), *sample, *again, *short); err != nil {
			fmt.Fprintf(os.Stderr, "%s: %v\n", folders, err)
			failed = true
		}
	}
	if failed {
		os.Exit(1)
	}
}

// try tries the mutants of the package in the first folder with the tests in all, and prints
// those that live.
func try(folders []string, sample int, again string, short bool) error {
	began := time.Now()
	folder := folders[0]
	equivalent, err := readEquivalent(folder)
	if err != nil {
		return err
	}
	work, err := os.MkdirTemp("", "mutants")
	if err != nil {
		return err
	}
	defer os.RemoveAll(work)
	p, err := load(folder)
	if err == nil {
		err = p.write(work)
	}
	if err != nil {
		return err
	}
	var all suites
	for _, tests := range folders {
		s, err := p.suite(work, tests, short)
		if err != nil {
			return err
		}
		all = append(all, s)
	}
	chosen, err := p.choose(sample, again)
	if err != nil {
		return err
	}
	count := all.try(chosen, p.mutants, equivalent)
	for m := range equivalent {
		if !p.has(m) {
			fmt.Printf("listed as equivalent, but not in %s: %s\n", folder, m)
			count.wrong++
		}
	}
	tried := len(chosen) - count.equivalent
	fmt.Printf("%s: %d mutants, %d tried, %d of them equivalent; %d of the other %d killed, %.1f %%, in %v\n", folder, len(p.mutants), len(chosen),
		count.equivalent, count.killed, tried, 100*float64(count.killed)/float64(max(1, tried)), time.Since(began).Round(time.Second))
	switch {
	case count.wrong > 0:
		return fmt.Errorf("%d of the list of equivalent ones are not", count.wrong)
	case 100*count.killed < enough*tried && again == "":
		return fmt.Errorf("fewer than %d %% are killed", enough)
	}
	return nil
}

// choose returns the indexes of the mutants to try, in order.
func (p *pack) choose(sample int, again string) ([]int, error) {
	chosen := rand.New(rand.NewPCG(1, 1)).Perm(len(p.mutants))
	if again != "" {
		text, err := os.ReadFile(again)
		if err != nil {
			return nil, err
		}
		chosen = slices.DeleteFunc(chosen, func(i int) bool { return !strings.Contains(string(text), ": "+p.mutants[i].String()) })
	}
	if sample > 0 {
		chosen = chosen[:min(sample, len(chosen))]
	}
	if len(chosen) == 0 {
		return nil, errors.New("there is no such mutant")
	}
	slices.Sort(chosen)
	return chosen, nil
}

// suites is the tests of several packages.
type suites []*suite

func (all suites) notice(mutant int) bool {
	return slices.ContainsFunc(all, func(s *suite) bool { return !s.survives(mutant) })
}

func (all suites) comeBy(mutant int) bool {
	return slices.ContainsFunc(all, func(s *suite) bool { return s.comesBy(mutant) })
}

// tally counts what became of the mutants.
type tally struct{ killed, equivalent, wrong int }

// try tries some of the mutants, by their index, and prints those that live.
func (all suites) try(chosen []int, mutants []mutant, equivalent map[string]string) tally {
	var group sync.WaitGroup
	var mu sync.Mutex
	var count tally
	next := make(chan int)
	for range runtime.GOMAXPROCS(0) {
		group.Go(func() {
			for i := range next {
				killed, m := all.notice(i), mutants[i]
				_, listed := equivalent[m.String()]
				mu.Lock()
				switch {
				case listed && !killed:
					count.equivalent++
				case listed:
					fmt.Printf("%s: listed as equivalent, but a test notices it: %s\n", m.at, m)
					count.killed++
					count.wrong++
				case killed:
					count.killed++
				case all.comeBy(i):
					fmt.Printf("%s: %s\n", m.at, m)
				default:
					fmt.Printf("%s: %s   (no test comes by)\n", m.at, m)
				}
				mu.Unlock()
			}
		})
	}
	for _, i := range chosen {
		next <- i
	}
	close(next)
	group.Wait()
	return count
}
