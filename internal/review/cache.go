package review

import (
	"encoding/binary"
	"errors"
	"hash/crc32"
	"math"
	"time"

	"hawser/internal/measure"
	"hawser/internal/session"
)

// Cached is the summary of one run with what its files looked like when they were
// read. It counts only while they still look the same, so a cache can be
// wrong about nothing that is in the logs, and can be thrown away.
type Cached struct {
	Path string // of the log, below the home
	Mark uint64 // what tells one look of the files from another
	Summary
}

// The cache is one block of bytes, in this order, every number a varint but for
// splits (4 bytes) and floats (8 bytes), little end first:
//
//	"hawser history 3\n"
//	how many texts, each its length and its bytes
//	how many files, each path, mark (8 bytes), run, wall (ms), zone (s), session,
//	    its lines, its efforts; a text is its number in the list above
//	CRC-32C of all before it, 4 bytes
const cacheHead = "hawser history 3\n"

// ErrCache is a cache that cannot be read. It is not worth telling anybody: the
// logs are read instead.
var ErrCache = errors.New("review: not a whole history cache")

// EncodeCache writes all in the form that [DecodeCache] reads.
func EncodeCache(all []Cached) []byte {
	e := encoder{numbers: map[string]uint64{}}
	e.uint(uint64(len(all)))
	for i := range all {
		e.file(&all[i])
	}
	out := []byte(cacheHead)
	out = binary.AppendUvarint(out, uint64(len(e.texts)))
	for _, t := range e.texts {
		out = binary.AppendUvarint(out, uint64(len(t)))
		out = append(out, t...)
	}
	out = append(out, e.body...)
	return binary.LittleEndian.AppendUint32(out, crc32.Checksum(out, crc32.MakeTable(crc32.Castagnoli)))
}

type encoder struct {
	texts   []string
	numbers map[string]uint64
	body    []byte
}

func (e *encoder) uint(n uint64) { e.body = binary.AppendUvarint(e.body, n) }
func (e *encoder) int(n int64)   { e.body = binary.AppendVarint(e.body, n) }
func (e *encoder) float(x float64) {
	e.body = binary.LittleEndian.AppendUint64(e.body, math.Float64bits(x))
}

func (e *encoder) text(t string) {
	n, ok := e.numbers[t]
	if !ok {
		n = uint64(len(e.texts))
		e.texts, e.numbers[t] = append(e.texts, t), n
	}
	e.uint(n)
}

func (e *encoder) file(c *Cached) {
	_, zone := c.Wall.Zone()
	e.text(c.Path)
	e.body = binary.LittleEndian.AppendUint64(e.body, c.Mark)
	e.text(c.Run)
	e.int(c.Wall.UnixMilli())
	e.int(int64(zone))
	e.text(c.Session)
	e.uint(uint64(len(c.Lines)))
	for i := range c.Lines {
		e.line(&c.Lines[i])
	}
	e.uint(uint64(len(c.Efforts)))
	for _, f := range c.Efforts {
		e.text(f.Who)
		e.float(f.Effort)
		e.float(f.Minutes)
	}
}

func (e *encoder) line(l *Line) {
	for _, t := range []string{l.Who, l.Movement, l.Surface, l.Layout, l.On, string(l.Format)} {
		e.text(t)
	}
	e.int(int64(l.Distance))
	e.int(int64(l.Moves))
	best := uint64(0)
	if l.Best {
		best = 1
	}
	e.uint(best)
	e.float(l.Share)
	e.float(l.Fade)
	e.uint(uint64(len(l.Splits)))
	for _, ms := range l.Splits {
		e.body = binary.LittleEndian.AppendUint32(e.body, ms)
	}
}

// DecodeCache reads what EncodeCache wrote. Whatever the bytes, it ends with the
// files or with [ErrCache], and takes memory in proportion to the bytes.
func DecodeCache(b []byte) ([]Cached, error) {
	if len(b) < len(cacheHead)+4 || string(b[:len(cacheHead)]) != cacheHead {
		return nil, ErrCache
	}
	body, sum := b[:len(b)-4], binary.LittleEndian.Uint32(b[len(b)-4:])
	if crc32.Checksum(body, crc32.MakeTable(crc32.Castagnoli)) != sum {
		return nil, ErrCache
	}
	d := decoder{rest: body[len(cacheHead):]}
	all := d.files()
	if d.bad || len(d.rest) > 0 {
		return nil, ErrCache
	}
	return all, nil
}

type decoder struct {
	rest   []byte
	texts  []string
	zones  map[int]*time.Location
	splits []uint32 // a stock from which lines take their splits
	bad    bool
}

func (d *decoder) uint() uint64 {
	n, k := binary.Uvarint(d.rest)
	return advance(d, n, k)
}

func (d *decoder) int() int64 {
	n, k := binary.Varint(d.rest)
	return advance(d, n, k)
}

// advance steps over the k bytes of n, or marks the cache as bad.
func advance[T uint64 | int64](d *decoder, n T, k int) T {
	if k <= 0 {
		d.bad, d.rest = true, nil
		return 0
	}
	d.rest = d.rest[k:]
	return n
}

// count reads how many things of at least size bytes follow; no more than fit.
func (d *decoder) count(size int) int {
	n := d.uint()
	if n > uint64(len(d.rest)/size) {
		d.bad, d.rest = true, nil
		return 0
	}
	return int(n)
}

// fixed reads 8 bytes.
func (d *decoder) fixed() uint64 {
	if len(d.rest) < 8 {
		d.bad, d.rest = true, nil
		return 0
	}
	n := binary.LittleEndian.Uint64(d.rest)
	d.rest = d.rest[8:]
	return n
}

func (d *decoder) float() float64 { return math.Float64frombits(d.fixed()) }

func (d *decoder) text() string {
	n := d.uint()
	if n >= uint64(len(d.texts)) {
		d.bad = true
		return ""
	}
	return d.texts[n]
}

func (d *decoder) files() []Cached {
	d.texts = make([]string, d.count(1))
	for i := range d.texts {
		n := d.count(1)
		d.texts[i], d.rest = string(d.rest[:n]), d.rest[n:]
	}
	d.zones = map[int]*time.Location{}
	all := make([]Cached, d.count(14))
	for i := range all {
		if d.file(&all[i]); d.bad {
			return nil
		}
	}
	return all
}

func (d *decoder) file(c *Cached) {
	c.Path, c.Mark, c.Run = d.text(), d.fixed(), d.text()
	ms, zone := d.int(), int(d.int())
	if d.zones[zone] == nil {
		d.zones[zone] = time.FixedZone("", zone)
	}
	c.Wall, c.Session = time.UnixMilli(ms).In(d.zones[zone]), d.text()
	c.Lines = make([]Line, d.count(26))
	for i := range c.Lines {
		d.line(&c.Lines[i])
	}
	c.Efforts = make([]Effort, d.count(10))
	for i := range c.Efforts {
		c.Efforts[i] = Effort{Who: d.text(), Effort: d.float(), Minutes: d.float()}
	}
}

func (d *decoder) line(l *Line) {
	for _, t := range []*string{&l.Who, &l.Movement, &l.Surface, &l.Layout, &l.On} {
		*t = d.text()
	}
	l.Format = session.Format(d.text())
	l.Distance, l.Moves = measure.Distance(d.int()), measure.Mass(d.int())
	l.Best, l.Share, l.Fade = d.uint() == 1, d.float(), d.float()
	n := d.count(4)
	if len(d.splits) < n {
		d.splits = make([]uint32, max(n, 1<<14))
	}
	l.Splits, d.splits = d.splits[:n:n], d.splits[n:]
	for i := range l.Splits {
		l.Splits[i] = binary.LittleEndian.Uint32(d.rest[4*i:])
	}
	d.rest = d.rest[4*n:]
}
