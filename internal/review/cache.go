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
	Mark uint64 // what tells one look of the files from another
	Summary
}

// The cache is one block of bytes of tables, every number with its little end first.
// All of a table's rows are of one size, so that ten years are read in an instant.
//
//	"hawser history 4\n"
//	how many texts, tags, files, lines, efforts, splits   4 bytes each
//	texts     length 4; then the bytes of all of them
//	tags      movement, surface, layout, on, format 4 each; distance 8; best 4
//	files     path, run, session 4 each; zone (s), lines, efforts 4 each; mark, wall (ms) 8 each
//	lines     who, tags, splits 4 each; moves, share, fade 8 each
//	efforts   who 4; effort, minutes 8 each
//	splits    ms 4
//	CRC-32C of all before it, 4 bytes
//
// A text or tags are told by their number in their table. A file's lines and
// efforts, and a line's splits, are the next so many of theirs.
const cacheHead = "hawser history 4\n"

// Sizes of a row.
const (
	tagsSize   = 5*4 + 8 + 4
	fileSize   = 6*4 + 2*8
	lineSize   = 3*4 + 3*8
	effortSize = 4 + 2*8
	splitSize  = 4
)

// ErrCache is a cache that cannot be read. It is not worth telling anybody: the
// logs are read instead.
var ErrCache = errors.New("review: not a whole history cache")

var castagnoli = crc32.MakeTable(crc32.Castagnoli)

// EncodeCache writes all in the form that [DecodeCache] reads.
func EncodeCache(all []Cached) []byte {
	e := encoder{numbers: map[string]uint32{}, tagged: map[*Tags]uint32{}, unlike: map[Tags]uint32{}}
	for i := range all {
		e.file(&all[i])
	}
	out := make([]byte, 0, len(cacheHead)+6*4+4*len(e.texts)+e.letters+
		len(e.tags)+len(e.files)+len(e.lines)+len(e.efforts)+len(e.splits)+4)
	out = append(out, cacheHead...)
	for _, n := range []int{
		len(e.texts), len(e.tags) / tagsSize, len(e.files) / fileSize,
		len(e.lines) / lineSize, len(e.efforts) / effortSize, len(e.splits) / splitSize,
	} {
		out = u32(out, uint32(n))
	}
	for _, t := range e.texts {
		out = u32(out, uint32(len(t)))
	}
	for _, t := range e.texts {
		out = append(out, t...)
	}
	for _, table := range [][]byte{e.tags, e.files, e.lines, e.efforts, e.splits} {
		out = append(out, table...)
	}
	return u32(out, crc32.Checksum(out, castagnoli))
}

// encoder is the tables as they grow.
type encoder struct {
	texts                               []string
	letters                             int // of all texts
	tags, files, lines, efforts, splits []byte
	numbers                             map[string]uint32
	tagged                              map[*Tags]uint32
	unlike                              map[Tags]uint32 // two readers have the same tags in two places
}

func u32(b []byte, n uint32) []byte    { return binary.LittleEndian.AppendUint32(b, n) }
func u64(b []byte, n uint64) []byte    { return binary.LittleEndian.AppendUint64(b, n) }
func float(b []byte, x float64) []byte { return u64(b, math.Float64bits(x)) }

// text returns the number of a text.
func (e *encoder) text(t string) uint32 {
	n, ok := e.numbers[t]
	if !ok {
		n = uint32(len(e.texts))
		e.texts, e.numbers[t] = append(e.texts, t), n
		e.letters += len(t)
	}
	return n
}

// tag returns the number of tags.
func (e *encoder) tag(t *Tags) uint32 {
	n, ok := e.tagged[t]
	if ok {
		return n
	}
	if n, ok = e.unlike[*t]; !ok {
		n = uint32(len(e.tags) / tagsSize)
		e.unlike[*t] = n
		for _, text := range []string{t.Movement, t.Surface, t.Layout, t.On, string(t.Format)} {
			e.tags = u32(e.tags, e.text(text))
		}
		best := uint32(0)
		if t.Best {
			best = 1
		}
		e.tags = u32(u64(e.tags, uint64(t.Distance)), best)
	}
	e.tagged[t] = n
	return n
}

func (e *encoder) file(c *Cached) {
	_, zone := c.Wall.Zone()
	for _, n := range []uint32{
		e.text(c.Path), e.text(c.Run), e.text(c.Session), uint32(zone), uint32(len(c.Lines)), uint32(len(c.Efforts)),
	} {
		e.files = u32(e.files, n)
	}
	e.files = u64(u64(e.files, c.Mark), uint64(c.Wall.UnixMilli()))
	for i := range c.Lines {
		l := &c.Lines[i]
		e.lines = u32(u32(u32(e.lines, e.text(l.Who)), e.tag(l.Tags)), uint32(l.Splits.Len()))
		e.lines = float(float(u64(e.lines, uint64(l.Moves)), l.Share), l.Fade)
		e.splits = append(e.splits, l.Splits.bytes...)
	}
	for _, f := range c.Efforts {
		e.efforts = float(float(u32(e.efforts, e.text(f.Who)), f.Effort), f.Minutes)
	}
}

// DecodeCache reads what EncodeCache wrote. Whatever the bytes, it ends with the
// files or with [ErrCache], and takes memory in proportion to the bytes.
func DecodeCache(b []byte) ([]Cached, error) {
	end := len(b) - 4
	if end < len(cacheHead) || string(b[:len(cacheHead)]) != cacheHead || crc32.Checksum(b[:end], castagnoli) != row(b[end:]).u32() {
		return nil, ErrCache
	}
	d := decoder{rest: b[len(cacheHead):end]}
	all := d.files()
	if d.bad {
		return nil, ErrCache
	}
	return all, nil
}

// row is the bytes of a row, or a table, that are not read yet.
type row []byte

func (r *row) cut(n int) row {
	b := (*r)[:n:n]
	*r = (*r)[n:]
	return b
}

func (r row) u32() uint32 { return binary.LittleEndian.Uint32(r) }

func (r *row) next32() uint32     { return r.cut(4).u32() }
func (r *row) next64() uint64     { return binary.LittleEndian.Uint64(r.cut(8)) }
func (r *row) nextFloat() float64 { return math.Float64frombits(r.next64()) }

type decoder struct {
	rest    row
	texts   []string
	tags    []Tags
	lines   []Line
	efforts []Effort
	splits  row
	bad     bool
}

// table cuts off a table of n rows; an empty one where it is not there.
func (d *decoder) table(n uint32, size int) row {
	if uint64(n)*uint64(size) > uint64(len(d.rest)) {
		d.bad = true
		return nil
	}
	return d.rest.cut(int(n) * size)
}

// text returns the text of a number.
func (d *decoder) text(n uint32) string {
	if uint64(n) >= uint64(len(d.texts)) {
		d.bad = true
		return ""
	}
	return d.texts[n]
}

// next takes the next n of those that are left.
func next[T any](d *decoder, left *[]T, n uint32) []T {
	if uint64(n) > uint64(len(*left)) {
		d.bad = true
		return nil
	}
	some := (*left)[:n:n]
	*left = (*left)[n:]
	return some
}

func (d *decoder) files() []Cached {
	head := d.table(6, 4)
	if d.bad {
		return nil
	}
	d.readTexts(d.table(head.next32(), 4))
	tags := d.table(head.next32(), tagsSize)
	files := d.table(head.next32(), fileSize)
	lines := d.table(head.next32(), lineSize)
	efforts := d.table(head.next32(), effortSize)
	d.splits = d.table(head.next32(), splitSize)
	if d.bad = d.bad || len(d.rest) > 0; d.bad {
		return nil
	}
	d.tags = make([]Tags, len(tags)/tagsSize)
	for i := range d.tags {
		d.tags[i] = Tags{
			Movement: d.text(tags.next32()), Surface: d.text(tags.next32()), Layout: d.text(tags.next32()), On: d.text(tags.next32()),
			Format: session.Format(d.text(tags.next32())), Distance: measure.Distance(tags.next64()), Best: tags.next32() == 1,
		}
	}
	d.readLines(lines)
	d.efforts = make([]Effort, len(efforts)/effortSize)
	for i := range d.efforts {
		d.efforts[i] = Effort{Who: d.text(efforts.next32()), Effort: efforts.nextFloat(), Minutes: efforts.nextFloat()}
	}
	return d.readFiles(files)
}

// readTexts reads the texts of those lengths.
func (d *decoder) readTexts(lengths row) {
	all := uint64(0)
	for i := 0; i < len(lengths); i += 4 {
		all += uint64(lengths[i:].u32())
	}
	if all > uint64(len(d.rest)) {
		d.bad = true
		return
	}
	letters := string(d.rest.cut(int(all)))
	d.texts = make([]string, len(lengths)/4)
	for i := range d.texts {
		n := lengths.next32()
		d.texts[i], letters = letters[:n], letters[n:]
	}
}

func (d *decoder) readLines(table row) {
	d.lines = make([]Line, len(table)/lineSize)
	for i := range d.lines {
		r := table.cut(lineSize)
		who, tags, splits := r.next32(), r.next32(), r.next32()
		if uint64(tags) >= uint64(len(d.tags)) || splitSize*uint64(splits) > uint64(len(d.splits)) {
			d.bad = true
			return
		}
		d.lines[i] = Line{
			Who: d.text(who), Tags: &d.tags[tags], Splits: Splits{d.splits.cut(splitSize * int(splits))},
			Moves: measure.Mass(r.next64()), Share: r.nextFloat(), Fade: r.nextFloat(),
		}
	}
}

func (d *decoder) readFiles(table row) []Cached {
	zones := map[int32]*time.Location{}
	all := make([]Cached, len(table)/fileSize)
	for i := range all {
		c, r := &all[i], table.cut(fileSize)
		c.Path, c.Run, c.Session = d.text(r.next32()), d.text(r.next32()), d.text(r.next32())
		zone := int32(r.next32())
		if zones[zone] == nil {
			zones[zone] = time.FixedZone("", int(zone))
		}
		c.Lines, c.Efforts = next(d, &d.lines, r.next32()), next(d, &d.efforts, r.next32())
		c.Mark = r.next64()
		c.Wall = time.UnixMilli(int64(r.next64())).In(zones[zone])
	}
	d.bad = d.bad || len(d.lines) > 0 || len(d.efforts) > 0 || len(d.splits) > 0
	return all
}
