// Package sessions is the demo home: the invented crew of a harbour boathouse,
// its sleds and one session for each format. It serves where a coach has no home
// of their own, and is the worked example of every file format.
package sessions

import (
	"embed"
	"fmt"
	"io/fs"
)

//go:embed boathouse
var files embed.FS //nolint:gochecknoglobals // embedding takes a package variable; nothing writes it

// Home returns the demo home, laid out like any home folder.
func Home() fs.FS {
	home, err := fs.Sub(files, "boathouse")
	if err != nil {
		panic(fmt.Errorf("the demo home was not built in: %w", err))
	}
	return home
}
