package logbook

import (
	"errors"
	"io/fs"
	"maps"
	"os"

	"hawser/internal/floor"
)

// Follower reads a log while another program adds to it, for a second screen. It
// joins in the middle, and goes over to the longer file when the run did.
type Follower struct {
	path  string
	last  int // the number of the latest event returned
	seen  map[string]look
	looks int // how often it has looked
}

// elsewhere is how many looks at its own file go to one at the folder, where a run
// that has gone over to another file shows.
const elsewhere = 40

// look is what a file looked like when it was last read.
type look struct {
	size     int64
	modified int64
}

// Follow follows the run that a log file is of.
func Follow(path string) *Follower { return &Follower{path: path} }

// Next returns the events that have come since, none where there are none. Call it
// as often as the screen should follow; it costs a look at the file while nothing is
// new. A line that is still being written is left for the next time.
func (f *Follower) Next() ([]floor.Stamped, error) {
	f.looks++
	if info, err := os.Lstat(f.path); err == nil && f.looks%elsewhere != 0 && f.seen[info.Name()] == (look{info.Size(), info.ModTime().UnixNano()}) {
		return nil, nil
	}
	folder, done, name, err := rooted(f.path)
	if err != nil {
		return nil, err
	}
	events, err := f.next(folder, name)
	return events, errors.Join(err, done())
}

func (f *Follower) next(folder files, name string) ([]floor.Stamped, error) {
	seen, err := looks(folder, name)
	if err != nil || maps.Equal(seen, f.seen) {
		return nil, err
	}
	log, err := loadIn(folder, name)
	if err != nil {
		return nil, err
	}
	f.seen = seen
	var events []floor.Stamped
	for _, e := range log.Events {
		if e.N > f.last {
			events = append(events, e)
		}
	}
	if len(events) > 0 {
		f.last = events[len(events)-1].N
	}
	return events, nil
}

// looks notes the public files of the run that a file name is of.
func looks(folder files, name string) (map[string]look, error) {
	_, run, _ := nameParts(name)
	items, err := folder.List(".", run)
	if err != nil {
		return nil, err
	}
	seen := map[string]look{}
	for _, one := range items {
		_, id, end := nameParts(one.name)
		if one.mode.IsRegular() && (one.name == name || end == publicEnd && id == run) {
			seen[one.name] = look{one.size, one.modified}
		}
	}
	if len(seen) == 0 {
		return nil, &fs.PathError{Op: "follow", Path: name, Err: ErrNoLog}
	}
	return seen, nil
}
