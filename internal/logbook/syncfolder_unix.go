//go:build !windows

package logbook

// SyncFolder makes the names in a folder last.
func (d disk) SyncFolder(name string) error {
	f, err := d.root.Open(name)
	if err != nil {
		return err //nolint:wrapcheck // it names the folder
	}
	defer f.Close()
	return f.Sync() //nolint:wrapcheck // it names the folder
}
