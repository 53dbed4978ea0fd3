package floor

import "time"

// Keys tells the repeats of a held key from presses: a terminal sends both alike.
// The zero value is ready. A key that comes again within gap of the last time it
// came is one press that lasts, however long.
type Keys struct {
	last map[string]time.Duration
}

// Repeat reports whether key at t is held down since before.
func (k *Keys) Repeat(key string, t, gap time.Duration) bool {
	was, ok := k.last[key]
	if k.last == nil {
		k.last = map[string]time.Duration{}
	}
	k.last[key] = t
	return ok && t-was < gap
}
