package logbook

import (
	"errors"
	"fmt"
	"path"
	"time"

	"github.com/oklog/ulid/v2"

	"hawser/internal/floor"
)

// Writer adds the events of one run to its files. It belongs to one goroutine.
type Writer struct {
	wall            time.Time
	run             string
	room            time.Duration // of the latest event
	public, private strand
	n, privateN     int // of the latest line
	p, privateP     string
	trouble         error
}

// State is how the writing goes, for the wall to show.
type State struct {
	Path    string // below the home; of the file that is written now
	Kept    int    // events known to be on the disk, private ones among them
	Waiting int    // events that are in memory only
	Renewed int    // files given up; the run goes on in another, and this should be said
	Trouble error  // why events wait, nil where none do
}

// ErrWaiting is wrapped by the errors of events that could not be written yet.
var ErrWaiting = errors.New("logbook: events are in memory only; make room or keep the program running")

// ErrOrder is an event whose number does not come next. It is not taken.
var ErrOrder = errors.New("logbook: the event's number does not come next")

// Create begins the log of a run with its first event, which is floor.Opened. With
// an error that is ErrWaiting the writer is there all the same, and the class goes on.
func (h *Home) Create(first floor.Stamped) (*Writer, error) {
	opened, ok := first.E.(floor.Opened)
	if !ok {
		return nil, fmt.Errorf("create log: %w: a run begins with opened", ErrOrder)
	}
	if _, err := ulid.ParseStrict(opened.Run); err != nil {
		return nil, fmt.Errorf("create log: run %q: %w", opened.Run, err)
	}
	w := newWriter(h.files, opened.Run, opened.Wall)
	err := w.Append(first)
	if err != nil && !errors.Is(err, ErrWaiting) {
		return nil, err
	}
	return w, err
}

func newWriter(f files, run string, wall time.Time) *Writer {
	w := &Writer{wall: wall, run: run}
	w.public = strand{files: f, folder: folderOf(wall), named: w.named(publicEnd)}
	w.private = strand{files: f, folder: folderOf(wall), named: w.named(privateEnd)}
	return w
}

// named gives the names that files of this run can have: the first by when it was
// opened, further ones by when they are begun, a second later while that is taken.
func (w *Writer) named(end string) func(int) string {
	return func(try int) string {
		at := w.wall
		if try > 0 {
			at = at.Add(w.room + time.Duration(try)*time.Second)
		}
		return at.UTC().Format(nameLayout) + "-" + w.run + end
	}
}

// Part of the format; do not change.
const (
	nameLayout = "20060102T150405Z"
	publicEnd  = ".jsonl"
	privateEnd = ".private.jsonl"
	tornEnd    = ".torn"
	newEnd     = ".new" // a rewrite that is not done
	logFolder  = "log"
)

func folderOf(wall time.Time) string { return path.Join(logFolder, wall.UTC().Format("2006")) }

// Append writes events in their order and syncs. With nil they are all kept, and
// those that waited too. With ErrWaiting they are taken, and will be written by a
// later call that can; one without events tries just that. With any other error
// none of them is taken. The number of a private event is given here.
func (w *Writer) Append(events ...floor.Stamped) error {
	lines := make([]line, len(events))
	n, p, m, q := w.n, w.p, w.privateN, w.privateP
	for i, e := range events {
		var err error
		if private(e.E) {
			m++
			lines[i], err = encode(m, w.wall, e.T, e.E, q)
			q = lines[i].c
		} else {
			n++
			if e.N != n {
				return fmt.Errorf("event %d after event %d: %w", e.N, n-1, ErrOrder)
			}
			lines[i], err = encode(n, w.wall, e.T, e.E, p)
			p = lines[i].c
		}
		if err != nil {
			return err
		}
	}
	w.n, w.p, w.privateN, w.privateP = n, p, m, q
	for _, l := range lines {
		w.room = max(w.room, l.t)
		if private(l.event) {
			w.private.lines = append(w.private.lines, l.raw)
		} else {
			w.public.lines = append(w.public.lines, l.raw)
		}
	}
	return w.flush()
}

// flush writes what waits. The private file is begun by its first event.
func (w *Writer) flush() error {
	err := w.public.flush()
	if len(w.private.lines) > 0 {
		err = errors.Join(err, w.private.flush())
	}
	w.trouble = err
	if err != nil {
		return fmt.Errorf("%w: %w", ErrWaiting, err)
	}
	return nil
}

// State says how the writing goes.
func (w *Writer) State() State {
	kept := w.public.kept + w.private.kept
	return State{
		Path: w.public.name, Kept: kept, Waiting: len(w.public.lines) + len(w.private.lines) - kept,
		Renewed: w.public.renewed + w.private.renewed, Trouble: w.trouble,
	}
}

// Close writes what waits, if it can, and closes the files. Use the writer no more.
func (w *Writer) Close() error {
	return errors.Join(w.flush(), w.public.close(), w.private.close())
}
