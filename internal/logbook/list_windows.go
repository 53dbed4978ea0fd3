package logbook

import (
	"os"
	"slices"
	"strings"
)

// list looks at what names that run in a folder.
func list(folder *os.File, run string) ([]item, error) {
	infos, err := folder.Readdir(-1)
	var all []item
	for _, info := range infos {
		if strings.Contains(info.Name(), run) {
			all = append(all, item{info.Name(), info.Mode().Type(), info.Size(), info.ModTime().UnixNano(), 0})
		}
	}
	slices.SortFunc(all, func(a, b item) int { return strings.Compare(a.name, b.name) })
	return all, err //nolint:wrapcheck // it names the folder
}
