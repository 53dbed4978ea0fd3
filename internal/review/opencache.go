package review

import (
	"encoding/binary"
	"hash/crc32"
	"math"
	"slices"
	"time"

	"hawser/internal/measure"
	"hawser/internal/session"
)

// Cache is what the bytes of a cache say. Its lines stay bytes.
type Cache struct {
	Files  []Cached // in the order of time, without their lines
	tags   []Tags
	order  []subject
	lines  map[subject]row // in the order of time
	splits row
}

// OpenCache reads what NewCache wrote. Whatever the bytes, it ends with the
// files or with [ErrCache], and takes memory in proportion to the bytes, which are
// the cache's from then on.
func OpenCache(b []byte) (*Cache, error) {
	end := len(b) - 4
	if end < len(cacheHead) || string(b[:len(cacheHead)]) != cacheHead || crc32.Checksum(b[:end], castagnoli) != row(b[end:]).u32() {
		return nil, ErrCache
	}
	d := decoder{rest: b[len(cacheHead):end]}
	c := d.cache()
	if d.bad {
		return nil, ErrCache
	}
	return c, nil
}

// All returns the files with their lines.
func (c *Cache) All() []Cached {
	all := slices.Clone(c.Files)
	counts, sum := make([]int, len(all)), 0
	for _, rows := range c.lines {
		for ; len(rows) > 0; rows = rows[lineSize:] {
			counts[rows.u32()]++
			sum++
		}
	}
	lines := make([]Line, sum)
	for i, n := range counts {
		all[i].Lines, lines = lines[:0:n], lines[n:]
	}
	for _, s := range c.order {
		for rows := c.lines[s]; len(rows) > 0; {
			file := &all[rows.u32()]
			file.Lines = append(file.Lines, c.point(s, rows.cut(lineSize)).Line)
		}
	}
	return all
}

// point takes the row of a line apart.
func (c *Cache) point(s subject, r row) Point {
	file, tags, first, splits := r.next32(), r.next32(), int(r.next32()), int(r.next32())
	return Point{
		Line{
			Who: s.who, Tags: &c.tags[tags], Moves: measure.Mass(r.next64()), Share: r.nextFloat(), Fade: r.nextFloat(),
			Splits: Splits{c.splits[splitSize*first : splitSize*(first+splits)]},
		}, &c.Files[file].Summary,
	}
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
	efforts []Effort
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

func (d *decoder) cache() *Cache {
	head := d.table(7, 4)
	if d.bad {
		return nil
	}
	c := &Cache{lines: map[subject]row{}}
	d.readTexts(d.table(head.next32(), 4))
	tags := d.table(head.next32(), tagsSize)
	files := d.table(head.next32(), fileSize)
	subjects := d.table(head.next32(), subjectSize)
	lines := d.table(head.next32(), lineSize)
	efforts := d.table(head.next32(), effortSize)
	c.splits = d.table(head.next32(), splitSize)
	if d.bad = d.bad || len(d.rest) > 0; d.bad {
		return nil
	}
	c.tags = make([]Tags, len(tags)/tagsSize)
	for i := range c.tags {
		c.tags[i] = Tags{
			Movement: d.text(tags.next32()), Surface: d.text(tags.next32()), Layout: d.text(tags.next32()), On: d.text(tags.next32()),
			Format: session.Format(d.text(tags.next32())), Distance: measure.Distance(tags.next64()), Best: tags.next32() != 0,
		}
	}
	d.efforts = make([]Effort, len(efforts)/effortSize)
	for i := range d.efforts {
		d.efforts[i] = Effort{Who: d.text(efforts.next32()), Effort: efforts.nextFloat(), Minutes: efforts.nextFloat()}
	}
	c.Files = d.readFiles(files)
	d.readSubjects(c, subjects, lines)
	return c
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
		c.Faulty = r.next32() != 0
		c.people = int(r.next32())
		n := r.next32()
		if uint64(n) > uint64(len(d.efforts)) {
			d.bad = true
			return nil
		}
		c.Efforts, d.efforts = d.efforts[:n:n], d.efforts[n:]
		c.Mark = r.next64()
		c.Wall = time.UnixMilli(int64(r.next64())).In(zones[zone])
	}
	d.bad = d.bad || len(d.efforts) > 0
	return all
}

// readSubjects hands out the lines, once each of them is known to lead nowhere else
// than into its tables.
func (d *decoder) readSubjects(c *Cache, subjects, lines row) {
	for rows := lines; len(rows) > 0; {
		r := rows.cut(lineSize)
		file, tags, first, splits := r.next32(), r.next32(), r.next32(), r.next32()
		d.bad = d.bad || uint64(file) >= uint64(len(c.Files)) || uint64(tags) >= uint64(len(c.tags)) ||
			uint64(first)+uint64(splits) > uint64(len(c.splits)/splitSize)
	}
	for len(subjects) > 0 {
		s := subject{d.text(subjects.next32()), d.text(subjects.next32())}
		n := uint64(subjects.next32()) * lineSize
		if _, twice := c.lines[s]; twice || n > uint64(len(lines)) {
			d.bad = true
			return
		}
		c.order, c.lines[s] = append(c.order, s), lines.cut(int(n))
	}
	d.bad = d.bad || len(lines) > 0
}
