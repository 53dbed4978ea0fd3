package logbook

import "bytes"

// What is broken on purpose. A control runs the check of a suite on one of these, and
// fails where the suite does not notice: each is a mistake that a log could make.

// brokenDisks are disks, or ways to use one, that lose what was shown as kept.
var brokenDisks = map[string]func(files) files{
	"lazy":     func(f files) files { return lazy{wrapped{f, func(f file) file { return lazyFile{f} }}} },
	"stubborn": func(f files) files { return wrapped{f, func(f file) file { return stubbornFile{f} }} },
	"greedy":   func(f files) files { return wrapped{f, func(f file) file { return greedyFile{f} }} },
	"mute":     func(f files) files { return wrapped{f, func(f file) file { return muteFile{f} }} },
	"uncut":    func(f files) files { return wrapped{f, func(f file) file { return uncutFile{f} }} },
	"blind":    func(f files) files { return wrapped{f, func(f file) file { return blindFile{f} }} },
}

// wrapped is a file system whose files are open for appending in another way.
type wrapped struct {
	files

	as func(file) file
}

func (w wrapped) Create(name string) (file, error) {
	f, err := w.files.Create(name)
	if err != nil {
		return nil, err
	}
	return w.as(f), nil
}

func (w wrapped) Append(name string) (file, error) {
	f, err := w.files.Append(name)
	if err != nil {
		return nil, err
	}
	return w.as(f), nil
}

// lazy never syncs.
type lazy struct{ files }

func (lazy) SyncFolder(string) error { return nil }

type lazyFile struct{ file }

func (lazyFile) Sync() error { return nil }

// stubbornFile syncs again where a sync has failed: the kernel then says yes, and the data
// is gone.
type stubbornFile struct{ file }

func (f stubbornFile) Sync() error {
	if err := f.file.Sync(); err != nil {
		return f.file.Sync()
	}
	return nil
}

// greedyFile says that it has written what it has not.
type greedyFile struct{ file }

func (f greedyFile) Write(b []byte) (int, error) {
	_, _ = f.file.Write(b)
	return len(b), nil
}

// muteFile writes nothing, and says that it has.
type muteFile struct{ file }

func (muteFile) Write(b []byte) (int, error) { return len(b), nil }

// uncutFile leaves a torn line where it is.
type uncutFile struct{ file }

func (uncutFile) Truncate(int64) error { return nil }

// blindFile does not see that it was taken away.
type blindFile struct{ file }

func (blindFile) Gone() bool { return false }

// reader reads a log. The broken ones say nothing of damage, or believe any line.
type reader func(data []byte) (*Log, error)

func read(data []byte) (*Log, error) { return Read("x", bytes.NewReader(data)) }

func quiet(data []byte) (*Log, error) {
	log, err := read(data)
	if err == nil {
		log.Damage = nil
	}
	return log, err
}

func credulous(data []byte) (*Log, error) { return read(seal(data)) }
