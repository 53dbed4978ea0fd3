package logbook

import "os"

// list looks at everything in a folder.
func list(folder *os.File) ([]item, error) {
	infos, err := folder.Readdir(-1)
	all := make([]item, len(infos))
	for i, info := range infos {
		all[i] = item{info.Name(), info.Mode().Type(), info.Size(), info.ModTime().UnixNano(), 0}
	}
	return all, err //nolint:wrapcheck // it names the folder
}
