package logbook

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"
	"syscall"
)

// strand is one file of a run while it is written, with all that it takes to write
// it once more.
//
//	kept ≤ written ≤ len(lines) while there is a file; without one, written is 0
//	the first kept lines are on the disk: in this file, or in one given up before
type strand struct {
	files  files
	folder string               // log/YYYY
	named  func(try int) string // what a new file may be called, without its folder

	lines   [][]byte // all of the run, kept or waiting
	kept    int
	file    file   // nil: the next flush begins a new one
	name    string // of file, or of the one given up last
	written int    // lines that are wholly in file
	size    int64  // their bytes
	synced  bool   // file was synced once, and its folder: it may be the only one with some line
	orphan  string // a file given up before it was ever synced; nothing stands in it alone
	tries   int    // names tried
	renewed int    // files given up
}

// flush writes and syncs all that waits. Where a file has to be given up, it goes
// on in a new one at once; where that fails too, the next flush will try again.
func (s *strand) flush() error {
	if s.kept == len(s.lines) && s.file != nil {
		return nil
	}
	err := s.write()
	if err != nil && s.file == nil {
		err = s.write()
	}
	return err
}

func (s *strand) write() error {
	if err := s.begin(); err != nil {
		return err
	}
	for _, line := range s.lines[s.written:] {
		n, err := s.file.Write(line)
		if err == nil && n < len(line) {
			err = io.ErrShortWrite
		}
		if err != nil {
			s.cutBack(err)
			return fmt.Errorf("write the log: %w", err)
		}
		s.written++
		s.size += int64(n)
	}
	if err := s.file.Sync(); err != nil {
		s.giveUp()
		return fmt.Errorf("sync the log: %w", err)
	}
	if !s.synced {
		if err := s.files.SyncFolder(s.folder); err != nil {
			s.giveUp()
			return fmt.Errorf("sync the log folder: %w", err)
		}
	}
	if s.file.Gone() {
		s.giveUp()
		return fmt.Errorf("%s/%s was taken away while the run was on", s.folder, path.Base(s.name))
	}
	s.synced, s.kept = true, len(s.lines)
	s.discard()
	return nil
}

// begin sees to it that there is a file.
func (s *strand) begin() error {
	if s.file != nil {
		return nil
	}
	if err := makeFolders(s.files, s.folder); err != nil {
		return fmt.Errorf("make the log folder: %w", err)
	}
	for ; ; s.tries++ {
		name := path.Join(s.folder, s.named(s.tries))
		f, err := s.files.Create(name)
		if errors.Is(err, fs.ErrExist) {
			continue
		}
		if err != nil {
			return fmt.Errorf("begin a log: %w", err)
		}
		s.file, s.name, s.written, s.size, s.synced = f, name, 0, 0, false
		s.tries++
		return nil
	}
}

// cutBack takes what was written of a line off the file again. Only a full disk
// leaves the file fit for more.
func (s *strand) cutBack(why error) {
	err := s.file.Truncate(s.size)
	if err != nil || !errors.Is(why, syscall.ENOSPC) && !errors.Is(why, syscall.EDQUOT) {
		s.giveUp()
	}
}

// giveUp leaves a file that can no longer be trusted, for ever. A reader in between
// finds the most in the latest, so that one stays until there is another.
func (s *strand) giveUp() {
	_ = s.file.Close() // it failed already
	s.discard()
	if !s.synced {
		s.orphan = s.name
	}
	s.file, s.written, s.size = nil, 0, 0
	s.renewed++
}

// discard removes a file in which nothing stands that is not elsewhere.
func (s *strand) discard() {
	if s.orphan != "" {
		_ = s.files.Remove(s.orphan) // it harms nobody where it stays
		s.orphan = ""
	}
}

// close closes the file, which holds all that is kept.
func (s *strand) close() error {
	if s.file == nil {
		return nil
	}
	err := s.file.Close()
	s.file = nil
	if err != nil {
		return fmt.Errorf("close the log: %w", err)
	}
	return nil
}

// makeFolders makes a folder and those above it, and lets their names last.
func makeFolders(f files, folder string) error {
	if folder == "." {
		return nil
	}
	if err := makeFolders(f, path.Dir(folder)); err != nil {
		return err
	}
	if err := f.Folder(folder); err != nil {
		return err
	}
	return f.SyncFolder(path.Dir(folder))
}
