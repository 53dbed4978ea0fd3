package cli

import (
	"strings"

	"hawser/internal/coachfile"
)

// shown makes foreign text safe to print.
func shown(text string) string { return coachfile.Clean(text) }

// some names a few of many.
func some(names []string) string {
	if len(names) > 8 {
		names = append(names[:8:8], "…")
	}
	return strings.Join(names, ", ")
}
