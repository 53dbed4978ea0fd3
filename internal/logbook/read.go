package logbook

import (
	"bytes"
	"cmp"
	"fmt"
	"io"
	"slices"
	"time"

	"hawser/internal/floor"
)

// fileLimit bounds what a reader takes into memory; a day of one press a second is
// 16 MiB.
const fileLimit = 256 << 20

// Log is what one file of a run says.
type Log struct {
	Path    string
	Events  []floor.Stamped // the whole lines that are known, by number
	Private []floor.Stamped // of the private file beside it, where Load found one
	Damage  []*DamageError  // in the order of the file
	Newer   bool            // from a newer program: read-only

	lines []line // the whole lines, by number
	end   int64  // bytes up to the end of the last line that is not torn
	torn  []byte // what stands after that
	mixed bool   // some of the lines are from another file of the run
}

// Opened returns the event that began the run; false where that line is gone, and
// then nothing can be replayed.
func (l *Log) Opened() (floor.Opened, bool) {
	if len(l.Events) == 0 {
		return floor.Opened{}, false
	}
	o, ok := l.Events[0].E.(floor.Opened)
	return o, ok
}

// Ended reports whether the run came to its end.
func (l *Log) Ended() bool {
	return slices.ContainsFunc(l.Events, func(e floor.Stamped) bool { _, ok := e.E.(floor.Ended); return ok })
}

// Room returns what room time it is at wall time now, if the run goes on, and how
// long nothing was written. A wall clock that was set back since counts as no gap.
func (l *Log) Room(now time.Time) (t, gap time.Duration) {
	if len(l.lines) == 0 {
		return 0, 0
	}
	last := slices.MaxFunc(l.lines, func(a, b line) int { return cmp.Compare(a.t, b.t) })
	gap = max(0, now.Sub(last.at).Round(time.Millisecond))
	return last.t + gap, gap
}

// Err returns the damage that a person should know of, nil where there is none. A
// torn last line is not among it: nobody was told that it was kept.
func (l *Log) Err() error {
	var bad damages
	for _, d := range l.Damage {
		if d.Kind != ErrTorn { //nolint:errorlint // Kind is one of two
			bad = append(bad, d)
		}
	}
	if len(bad) == 0 {
		return nil
	}
	return bad
}

// damages is several as one error, each on its line.
type damages []*DamageError

func (d damages) Error() string {
	var b bytes.Buffer
	for i, e := range d {
		if i > 0 {
			b.WriteByte('\n')
		}
		b.WriteString(e.Error())
	}
	return b.String()
}

func (d damages) Unwrap() []error {
	errs := make([]error, len(d))
	for i, e := range d {
		errs[i] = e
	}
	return errs
}

// Read reads a log to its end, past all damage, which it names. The error is r's.
func Read(name string, r io.Reader) (*Log, error) {
	data, err := io.ReadAll(io.LimitReader(r, fileLimit+1))
	log := &Log{Path: name}
	if len(data) > fileLimit {
		data = data[:fileLimit]
		log.Damage = append(log.Damage, &DamageError{name, 0, fileLimit, "the file is too long; the rest is not read", ErrDamaged})
	}
	log.scan(data)
	log.settle()
	if err != nil {
		return log, fmt.Errorf("read %s: %w", name, err)
	}
	return log, nil
}

// settle makes the events of the lines.
func (l *Log) settle() {
	l.Events = nil
	for _, one := range l.lines {
		l.Newer = l.Newer || one.v > version || one.event == nil
		if one.event != nil {
			l.Events = append(l.Events, floor.Stamped{N: one.n, T: one.t, E: one.event})
		}
	}
}

// fill takes the lines that are missing here from another file of the same run. A
// file that was being repeated when the power went can have more lines than the one
// before, and yet not all of them.
func (l *Log) fill(from *Log) {
	have := make(map[int]bool, len(l.lines))
	for _, one := range l.lines {
		have[one.n] = true
	}
	for _, one := range from.lines {
		if !have[one.n] && one.at.Add(-one.t).Equal(l.lines[0].at.Add(-l.lines[0].t)) {
			l.lines = append(l.lines, one)
			l.mixed = true
		}
	}
	if l.mixed {
		slices.SortStableFunc(l.lines, func(a, b line) int { return cmp.Compare(a.n, b.n) })
		l.settle()
	}
}

// found is a whole line and where it stood.
type found struct {
	line
	row    int
	offset int64
}

// scan takes data apart into lines and puts those that are whole in their order.
func (l *Log) scan(data []byte) {
	var all []found
	offset, row := int64(0), 0
	for rest := data; len(rest) > 0; {
		row++
		raw := rest
		end := bytes.IndexByte(rest, '\n')
		if end >= 0 {
			raw = rest[:end+1]
		}
		rest = rest[len(raw):]
		one, err := check(raw, end >= 0)
		switch {
		case err == nil:
			all = append(all, found{one, row, offset})
		case len(rest) == 0:
			l.torn = raw
			l.name(ErrTorn, row, offset, fmt.Sprintf("%v; the last %d bytes are left out", err, len(raw)))
		default:
			l.name(ErrDamaged, row, offset, err.Error())
		}
		offset += int64(len(raw))
	}
	l.end = offset - int64(len(l.torn))
	l.order(all)
	slices.SortStableFunc(l.Damage, func(a, b *DamageError) int { return cmp.Compare(a.Offset, b.Offset) })
}

// check reads a line that is short enough and has its newline. A line without one
// is torn even where all else of it is there: nobody was told that it was kept.
func check(raw []byte, newline bool) (line, error) {
	switch {
	case len(raw) > firstLimit:
		return line{}, errLong
	case !newline:
		return line{}, errNewline
	}
	l, err := decode(raw)
	if err == nil && l.n > 1 && len(raw) > lineLimit {
		return line{}, errLong
	}
	return l, err
}

// order keeps of all whole lines those of this run, each once, by number, and names
// what does not fit.
func (l *Log) order(all []found) {
	if len(all) == 0 {
		return
	}
	begun := began(all)
	all = slices.DeleteFunc(all, func(f found) bool {
		foreign := !f.at.Add(-f.t).Equal(begun)
		if foreign {
			l.name(ErrDamaged, f.row, f.offset, fmt.Sprintf("event %d of another run", f.n))
		}
		return foreign
	})
	inPlace := slices.Clone(all)
	slices.SortStableFunc(all, func(a, b found) int { return cmp.Compare(a.n, b.n) })
	var last *found
	for i := range all {
		f := &all[i]
		switch {
		case last != nil && f.n == last.n && f.c == last.c:
			l.name(ErrDamaged, f.row, f.offset, fmt.Sprintf("event %d again", f.n))
			continue
		case last != nil && f.n == last.n:
			l.name(ErrDamaged, f.row, f.offset, fmt.Sprintf("another event %d than on line %d", f.n, last.row))
			continue
		}
		l.follows(f, last)
		l.lines = append(l.lines, f.line)
		last = f
	}
	for i := 1; i < len(inPlace); i++ {
		if f := inPlace[i]; f.n < inPlace[i-1].n && f.row > 1 {
			l.name(ErrDamaged, f.row, f.offset, fmt.Sprintf("event %d stands after event %d", f.n, inPlace[i-1].n))
		}
	}
}

// began is when the run of these lines was opened, to the millisecond: what line 1
// says, else what most lines say.
func began(all []found) time.Time {
	count := map[time.Time]int{}
	best := all[0].at.Add(-all[0].t).UTC()
	if all[0].row == 1 && all[0].n == 1 {
		return best
	}
	for _, f := range all {
		at := f.at.Add(-f.t).UTC()
		count[at]++
		if count[at] > count[best] {
			best = at
		}
	}
	return best
}

// follows names what is missing between two lines that should be neighbours. The
// lines from the one before to this one are whole, so p tells a changed one.
func (l *Log) follows(f, last *found) {
	n, c := 0, ""
	if last != nil {
		n, c = last.n, last.c
	}
	switch {
	case f.n == n+2:
		l.name(ErrDamaged, f.row, f.offset, fmt.Sprintf("event %d is missing before this line", n+1))
	case f.n > n+2:
		l.name(ErrDamaged, f.row, f.offset, fmt.Sprintf("events %d to %d are missing before this line", n+1, f.n-1))
	case f.p != c:
		l.name(ErrDamaged, f.row, f.offset, fmt.Sprintf("event %d was not written after this event %d", f.n, n))
	}
}

func (l *Log) name(kind error, row int, offset int64, what string) {
	l.Damage = append(l.Damage, &DamageError{l.Path, row, offset, what, kind})
}
