package tui

// Hint is one key and what it does, for the bottom line and the list of keys.
type Hint struct{ Key, Does string }
