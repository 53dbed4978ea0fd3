package logbook

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"
	"strings"
)

// Recovered is what taking up a run again found.
type Recovered struct {
	Log *Log
	Cut int // bytes of a torn line that were set aside
}

// Resume takes up a run again after a crash: a torn last line is cut, its bytes kept
// beside the log, and the writer goes on after the last whole line. Done twice, it
// is the same as once. The caller appends floor.Recovered with the gap, see
// [Log.Room], and Cut. With an error that is ErrWaiting the writer is there all the
// same; with ErrNewer or another the log is as it was.
func (h *Home) Resume(r *Run) (*Writer, Recovered, error) {
	log, err := h.Load(r)
	if err != nil {
		return nil, Recovered{}, err
	}
	opened, ok := log.Opened()
	switch {
	case log.Newer:
		return nil, Recovered{Log: log}, ErrNewer
	case !ok:
		return nil, Recovered{Log: log}, fmt.Errorf("%s: its first line is gone, so that the run cannot go on: %w", log.Path, ErrDamaged)
	}
	w := newWriter(h.files, r.ULID, opened.Wall)
	w.public.folder, w.private.folder = path.Dir(log.Path), path.Dir(log.Path)
	w.n, w.p = lastLine(log)
	w.room, _ = log.Room(opened.Wall)
	cut, err := w.public.resume(log)
	if len(r.private) > 0 {
		second, readErr := readLongest(h.files, r.private)
		if readErr != nil {
			return nil, Recovered{Log: log}, readErr
		}
		more, resumeErr := w.private.resume(second)
		cut, err = cut+more, errors.Join(err, resumeErr)
		w.privateN, w.privateP = lastLine(second)
	}
	w.trouble = err
	if err != nil {
		err = fmt.Errorf("%w: %w", ErrWaiting, err)
	}
	return w, Recovered{Log: log, Cut: cut}, err
}

func lastLine(log *Log) (n int, c string) {
	if len(log.lines) == 0 {
		return 0, ""
	}
	last := log.lines[len(log.lines)-1]
	return last.n, last.c
}

// resume goes on in the file of a log. What stands in it may never have been synced,
// so that is done before a line of it counts as kept. Where the file cannot be
// mended, or does not hold all of the lines, the run goes on in a new one.
func (s *strand) resume(log *Log) (cut int, err error) {
	s.name, s.tries, s.folder = log.Path, 1, path.Dir(log.Path)
	for _, l := range log.lines {
		s.lines = append(s.lines, l.raw)
	}
	if s.file, err = s.files.Append(log.Path); err != nil {
		return 0, errors.Join(fmt.Errorf("open the log: %w", err), s.flush())
	}
	s.written, s.size, s.synced = len(s.lines), log.end, true
	if cut, err = s.cutTorn(log); err == nil {
		err = s.files.SyncFolder(s.folder)
	}
	if err != nil || log.mixed {
		s.giveUp()
	}
	return cut, s.flush()
}

// cutTorn sets the torn end of a log aside and takes it off the file.
func (s *strand) cutTorn(log *Log) (int, error) {
	if len(log.torn) == 0 {
		return 0, nil
	}
	if err := setAside(s.files, strings.TrimSuffix(log.Path, publicEnd)+tornEnd, log.torn); err != nil {
		return 0, fmt.Errorf("set a torn line aside: %w", err)
	}
	if err := s.file.Truncate(log.end); err != nil {
		return 0, fmt.Errorf("cut a torn line: %w", err)
	}
	return len(log.torn), nil
}

// setAside adds bytes to a file, unless they stand at its end already: then a crash
// came between this and the cut.
func setAside(f files, name string, torn []byte) error {
	out, err := f.Create(name)
	if errors.Is(err, fs.ErrExist) {
		old, readErr := readAll(f, name)
		if readErr != nil || bytes.HasSuffix(old, torn) {
			return readErr
		}
		out, err = f.Append(name)
	}
	if err != nil {
		return err
	}
	_, err = out.Write(torn)
	if err == nil {
		err = out.Sync()
	}
	if err := errors.Join(err, out.Close()); err != nil {
		return err
	}
	return f.SyncFolder(path.Dir(name))
}

func readAll(f files, name string) ([]byte, error) {
	r, err := f.Open(name)
	if err != nil {
		return nil, err
	}
	defer r.Close()
	return io.ReadAll(r) //nolint:wrapcheck // it names the file
}
