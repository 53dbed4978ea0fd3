package logbook

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"path"
	"slices"
	"strings"

	"hawser/internal/floor"
)

// Forgot says what Forget did, by paths below the home.
type Forgot struct {
	Rewritten []string // the person's splits stand there under another name
	Removed   []string // nothing was left in them, or nobody could say whose it was
	Beyond    []string // they still hold the name, each with why; the rest is yours
}

// Forget takes a person out of every log of the home. Their splits still count,
// under "someone"; their effort, pain and notes go, and so does every torn line of a
// run that they were in, and every damaged line of a file that is rewritten. Each file is written beside
// the old one, synced and put in its place, so that a crash leaves the old or the
// new one; to do it again is to finish it. No writer may be open in the home.
//
// Copies, backups, printed pages and shared logs are out of reach, and so is what
// the disk itself keeps of files that were replaced; whoever asks should be told.
func (h *Home) Forget(name string) (Forgot, error) {
	e := eraser{files: h.files, name: name}
	if strings.TrimSpace(name) == "" {
		return e.done, errors.New("forget whom? give the name as it stands in the roster")
	}
	all, err := e.list(logFolder)
	if err != nil {
		return e.done, fmt.Errorf("forget: %w", err)
	}
	if err := e.leftovers(all); err != nil {
		return e.done, fmt.Errorf("forget: %w", err)
	}
	for _, file := range all {
		if err := e.forget(file); err != nil {
			return e.done, fmt.Errorf("forget: %s: %w", file, err)
		}
	}
	return e.done, nil
}

// eraser is one person being taken out of a home.
type eraser struct {
	files files
	name  string
	done  Forgot
}

// list returns every file below a folder, and names what is neither.
func (e *eraser) list(folder string) ([]string, error) {
	items, err := e.files.List(folder, "")
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	var all []string
	for _, one := range items {
		name := path.Join(folder, one.name)
		switch {
		case one.mode.IsDir():
			more, err := e.list(name)
			if err != nil {
				return nil, err
			}
			all = append(all, more...)
		case one.mode.IsRegular():
			all = append(all, name)
		default:
			e.beyond(name, "a link or a device, not followed")
		}
	}
	return all, nil
}

// leftovers removes the torn lines of every run that the person was in, and every
// rewrite that a crash cut short. Those come first: as long as they are there, the
// log still says that the person was.
func (e *eraser) leftovers(all []string) error {
	in := map[string]bool{}
	for _, file := range all {
		data, err := readAll(e.files, file)
		if err != nil {
			return err
		}
		if e.holds(data) {
			in[runOf(file)] = true
		}
	}
	for _, file := range all {
		if path.Ext(file) == newEnd || path.Ext(file) == tornEnd && in[runOf(file)] {
			if err := e.remove(file); err != nil {
				return err
			}
		}
	}
	return nil
}

// runOf is the run that a file of any kind belongs to, by its name.
func runOf(file string) string {
	_, rest, _ := strings.Cut(path.Base(file), "-")
	run, _, _ := strings.Cut(rest, ".")
	return run
}

func (e *eraser) forget(file string) error {
	if slices.Contains(e.done.Removed, file) {
		return nil
	}
	data, err := readAll(e.files, file)
	if err != nil || !e.holds(data) {
		return err
	}
	_, _, end := nameParts(path.Base(file))
	if end == "" {
		e.beyond(file, "not a log of this program")
		return nil
	}
	log, err := Read(file, bytes.NewReader(data))
	if err != nil {
		return err
	}
	if log.Newer {
		e.beyond(file, "written by a newer hawser; use that one")
		return nil
	}
	fresh, err := e.without(log, end)
	if err != nil {
		return err
	}
	if len(fresh) == 0 {
		return e.remove(file)
	}
	if err := replace(e.files, file, fresh); err != nil {
		return err
	}
	e.done.Rewritten = append(e.done.Rewritten, file)
	if e.holds(fresh) {
		e.beyond(file, "the name is also the name of something else there")
	}
	return nil
}

// without writes a log anew without the person.
func (e *eraser) without(log *Log, end string) ([]byte, error) {
	as := pseudonym(log.Events)
	var fresh []byte
	n, p := 0, ""
	for _, l := range log.lines {
		event := rename(l.event, e.name, as)
		if end == privateEnd && who(l.event) == e.name {
			continue
		}
		n++
		if end == publicEnd { // undone speaks of numbers
			n = l.n
		}
		now, err := encode(n, l.at.Add(-l.t), l.t, event, p)
		if err != nil {
			return nil, err
		}
		p = now.c
		fresh = append(fresh, now.raw...)
	}
	return fresh, nil
}

// holds reports whether bytes hold the name, as it is or as JSON writes it.
func (e *eraser) holds(data []byte) bool {
	data = bytes.ToLower(data)
	name := []byte(strings.ToLower(e.name))
	quoted, err := json.Marshal(strings.ToLower(e.name))
	return bytes.Contains(data, name) || err == nil && bytes.Contains(data, quoted[1:len(quoted)-1])
}

func (e *eraser) remove(file string) error {
	if err := e.files.Remove(file); err != nil {
		return err
	}
	e.done.Removed = append(e.done.Removed, file)
	return e.files.SyncFolder(path.Dir(file))
}

func (e *eraser) beyond(file, why string) {
	e.done.Beyond = append(e.done.Beyond, file+": "+why)
}

// pseudonym is what a person is called who is forgotten: a name nobody has there.
func pseudonym(events []floor.Stamped) string {
	taken := map[string]bool{}
	for _, e := range events {
		taken[who(e.E)] = true
		if opened, ok := e.E.(floor.Opened); ok && opened.Plan != nil {
			for _, p := range opened.Plan.People {
				taken[p.Name] = true
			}
		}
	}
	as := "someone"
	for k := 2; taken[as]; k++ {
		as = fmt.Sprintf("someone %d", k)
	}
	return as
}

// replace puts other bytes in the place of a file, all or none.
func replace(f files, name string, data []byte) error {
	fresh := name + newEnd
	if err := f.Remove(fresh); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	out, err := f.Create(fresh)
	if err != nil {
		return err
	}
	_, err = out.Write(data)
	if err == nil {
		err = out.Sync()
	}
	if err := errors.Join(err, out.Close()); err != nil {
		return errors.Join(err, f.Remove(fresh))
	}
	if err := f.Rename(fresh, name); err != nil {
		return err
	}
	return f.SyncFolder(path.Dir(name))
}
