package main

import (
	_ "embed"
	"fmt"
	"strings"
)

//go:embed equivalent.txt
var equivalentList string

// readEquivalent reads which mutants of a package change nothing anyone could see, each
// with why.
func readEquivalent(folder string) (map[string]string, error) {
	all := map[string]string{}
	here, mutant := "", ""
	for line := range strings.Lines(equivalentList) {
		why, isWhy := strings.CutPrefix(line, "\t")
		line = strings.TrimSpace(line)
		section, isSection := strings.CutPrefix(line, "== ")
		switch {
		case line == "" || line[0] == '#':
		case isSection:
			here, mutant = section, ""
		case isWhy && mutant == "":
			return nil, fmt.Errorf("a reason without a mutant: %s", line)
		case isWhy && here == folder:
			all[mutant] = strings.TrimSpace(all[mutant] + " " + strings.TrimSpace(why))
		case !isWhy:
			mutant = line
			if here == folder {
				all[mutant] = ""
			}
		}
	}
	for mutant, why := range all {
		if why == "" {
			return nil, fmt.Errorf("listed as equivalent without a reason: %s", mutant)
		}
	}
	return all, nil
}
