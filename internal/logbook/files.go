package logbook

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
)

// files is a folder tree as this package uses it. Names are slash-separated, below
// the folder. What is made is its owner's alone. Links and all that is neither
// file nor folder are refused with ErrLink.
//
// What is created, renamed or removed is on the disk only after SyncFolder of the
// folder it stands in.
type files interface {
	Create(name string) (file, error) // for appending; fs.ErrExist where it is there
	Append(name string) (file, error) // one that is there
	Open(name string) (io.ReadCloser, error)
	List(folder, run string) ([]item, error) // what names that run, "" for all; by name
	Folder(name string) error                // makes it in a folder that is there; fine where it is there
	SyncFolder(name string) error
	Rename(from, to string) error
	Remove(name string) error
}

// item is what stands in a folder under one name.
type item struct {
	name     string
	mode     fs.FileMode // its type alone
	size     int64
	modified int64 // when its bytes were, in ns since 1970; a program can set it back
	changed  int64 // when anything of it was; 0 on a system that does not say
}

// file is one open for appending.
type file interface {
	io.Writer
	Truncate(size int64) error
	Sync() error
	Close() error
	Gone() bool // its name leads to it no more
}

// disk is the real thing, below a root that no name leads out of.
type disk struct{ root *os.Root }

func (d disk) Create(name string) (file, error) {
	if err := d.plain(path.Dir(name)); err != nil {
		return nil, err
	}
	f, err := d.root.OpenFile(name, os.O_WRONLY|os.O_APPEND|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return nil, err //nolint:wrapcheck // it names the file
	}
	if err := f.Chmod(0o600); err != nil { // a umask may have taken more
		f.Close()
		return nil, err //nolint:wrapcheck // it names the file
	}
	return diskFile{f, d.root, name}, nil
}

func (d disk) Append(name string) (file, error) {
	f, err := d.open(name, os.O_WRONLY|os.O_APPEND)
	if err != nil {
		return nil, err
	}
	return diskFile{f, d.root, name}, nil
}

func (d disk) Open(name string) (io.ReadCloser, error) { return d.open(name, os.O_RDONLY) }

// open opens a regular file, and no other that was put there in the meantime.
func (d disk) open(name string, flag int) (*os.File, error) {
	if err := d.plain(name); err != nil {
		return nil, err
	}
	before, err := d.root.Lstat(name)
	if err != nil {
		return nil, err //nolint:wrapcheck // it names the file
	}
	f, err := d.root.OpenFile(name, flag, 0)
	if err != nil {
		return nil, err //nolint:wrapcheck // it names the file
	}
	if after, err := f.Stat(); err != nil || !after.Mode().IsRegular() || !os.SameFile(before, after) {
		f.Close()
		return nil, fmt.Errorf("%s: %w", name, ErrLink)
	}
	return f, nil
}

// plain refuses a name that passes through a link, or ends at one, or at a pipe or device.
func (d disk) plain(name string) error {
	for i := 0; i <= len(name); i++ {
		if i < len(name) && name[i] != '/' {
			continue
		}
		info, err := d.root.Lstat(name[:i])
		switch {
		case err != nil:
			return err //nolint:wrapcheck // it names the file
		case !info.IsDir() && !info.Mode().IsRegular():
			return fmt.Errorf("%s: %w", name[:i], ErrLink)
		}
	}
	return nil
}

func (d disk) List(folder, run string) ([]item, error) {
	if err := d.plain(folder); err != nil {
		return nil, err
	}
	f, err := d.root.Open(folder)
	if err != nil {
		return nil, err //nolint:wrapcheck // it names the folder
	}
	defer f.Close()
	return list(f, run)
}

func (d disk) Folder(name string) error {
	switch err := d.root.Mkdir(name, 0o700); {
	case errors.Is(err, fs.ErrExist):
		return d.plain(name)
	case err != nil:
		return err //nolint:wrapcheck // it names the folder
	}
	return d.root.Chmod(name, 0o700) //nolint:wrapcheck // it names the folder
}

func (d disk) Rename(from, to string) error { return d.root.Rename(from, to) } //nolint:wrapcheck // names both
func (d disk) Remove(name string) error     { return d.root.Remove(name) }     //nolint:wrapcheck // names it

type diskFile struct {
	*os.File
	root *os.Root
	name string
}

func (f diskFile) Gone() bool {
	mine, err := f.Stat()
	if err != nil {
		return true
	}
	named, err := f.root.Lstat(f.name)
	return err != nil || !os.SameFile(mine, named)
}

// rooted gives the folder that a file stands in, and its name there.
func rooted(name string) (files, func() error, string, error) {
	dir, base := filepath.Split(name)
	root, err := os.OpenRoot(filepath.Clean(dir))
	if err != nil {
		return nil, nil, "", fmt.Errorf("open log: %w", err)
	}
	return disk{root}, root.Close, base, nil
}
