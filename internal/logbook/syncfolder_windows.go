package logbook

// SyncFolder does nothing: this system has no such call, and its file system keeps
// names in a journal.
func (disk) SyncFolder(string) error { return nil }
