package review

import (
	"encoding/binary"
	"errors"
	"hash/crc32"
	"math"
	"slices"
)

// Cached is the summary of one run with what its files looked like when they were
// read. It counts only while they still look the same, so a cache can be
// wrong about nothing that is in the logs, and can be thrown away.
type Cached struct {
	Mark   uint64 // what tells one look of the files from another
	Faulty bool   // something is wrong with them, which is not kept here
	Summary
}

// The cache is one block of bytes of tables, every number with its little end first.
// All of a table's rows are of one size, and the lines of one person and movement
// stand together, so that of ten years only what is asked for is taken apart.
//
//	"hawser history 5\n"
//	how many texts, tags, files, subjects, lines, efforts, splits   4 bytes each
//	texts     length 4; then the bytes of all of them
//	tags      movement, surface, layout, on, format 4 each; distance 8; best 4
//	files     path, run, session 4 each; zone (s), faulty, people, efforts 4 each; mark, wall (ms) 8 each
//	subjects  who, movement, lines 4 each
//	lines     file, tags, first split, splits 4 each; moves, share, fade 8 each
//	efforts   who 4; effort, minutes 8 each
//	splits    ms 4
//	CRC-32C of all before it, 4 bytes
//
// A text, tags, a file and a split are told by their number in their table. A file's
// efforts and a subject's lines are the next so many of theirs. Files, and lines of a
// subject, are in the order of time.
const cacheHead = "hawser history 5\n"

// Sizes of a row.
const (
	tagsSize    = 5*4 + 8 + 4
	fileSize    = 7*4 + 2*8
	subjectSize = 3 * 4
	lineSize    = 4*4 + 3*8
	effortSize  = 4 + 2*8
	splitSize   = 4
)

// ErrCache is a cache that cannot be read. It is not worth telling anybody: the
// logs are read instead.
var ErrCache = errors.New("review: not a whole history cache")

var castagnoli = crc32.MakeTable(crc32.Castagnoli)

// NewCache is the cache of all, and its bytes. Of one run that stands in several
// files the one with the most splits is kept.
func NewCache(all []Cached) (*Cache, []byte) {
	b := encode(all)
	c, _ := OpenCache(b) // what the one wrote the other reads
	return c, b
}

// encode writes all in the form that [OpenCache] reads. Lines and splits, which are
// nearly all of it, are written once, where they stay.
func encode(all []Cached) []byte {
	e := encoder{numbers: map[string]uint32{}, tagged: map[*Tags]uint32{}, unlike: map[Tags]uint32{}, places: map[subject]int{}}
	order := inTime(all)
	for _, c := range order {
		e.file(c)
	}
	lines := 0
	for k, s := range e.order {
		e.subjects = u32(u32(u32(e.subjects, e.text(s.who)), e.text(s.movement)), uint32(e.lines[k]))
		lines += e.lines[k]
	}
	letters := 0
	for _, t := range e.texts {
		letters += len(t)
	}
	counts := []int{
		len(e.texts), len(e.tags) / tagsSize, len(e.files) / fileSize, len(e.subjects) / subjectSize, lines,
		len(e.efforts) / effortSize, e.splits,
	}
	size := len(cacheHead) + 4*len(counts) + 4*len(e.texts) + letters + len(e.tags) + len(e.files) + len(e.subjects) +
		lines*lineSize + len(e.efforts) + e.splits*splitSize + 4
	out := append(make([]byte, 0, size), cacheHead...)
	for _, n := range counts {
		out = u32(out, uint32(n))
	}
	for _, t := range e.texts {
		out = u32(out, uint32(len(t)))
	}
	for _, t := range e.texts {
		out = append(out, t...)
	}
	out = append(append(append(out, e.tags...), e.files...), e.subjects...)
	rows := make([][]byte, len(e.order)) // of each subject, as they stand in out
	for k, n := range e.lines {
		at := len(out)
		out = out[:at+n*lineSize]
		rows[k] = out[at:at:len(out)]
	}
	out = append(out, e.efforts...)
	splits := uint32(0)
	for n, c := range order {
		for i := range c.Lines {
			l := &c.Lines[i]
			row := &rows[e.places[subject{l.Who, l.Movement}]]
			*row = u32(u32(u32(u32(*row, uint32(n)), e.tagged[l.Tags]), splits), uint32(l.Splits.Len()))
			*row = float(float(u64(*row, uint64(l.Moves)), l.Share), l.Fade)
			out = append(out, l.Splits.bytes...)
			splits += uint32(l.Splits.Len())
		}
	}
	return u32(out, crc32.Checksum(out, castagnoli))
}

// encoder is the tables as they grow.
type encoder struct {
	texts                          []string
	tags, files, subjects, efforts []byte
	order                          []subject
	lines                          []int // of each subject
	splits                         int
	numbers                        map[string]uint32
	tagged                         map[*Tags]uint32
	unlike                         map[Tags]uint32 // two readers have the same tags in two places
	places                         map[subject]int
}

func u32(b []byte, n uint32) []byte    { return binary.LittleEndian.AppendUint32(b, n) }
func u64(b []byte, n uint64) []byte    { return binary.LittleEndian.AppendUint64(b, n) }
func float(b []byte, x float64) []byte { return u64(b, math.Float64bits(x)) }

func truth(b []byte, is bool) []byte {
	if is {
		return u32(b, 1)
	}
	return u32(b, 0)
}

// text returns the number of a text.
func (e *encoder) text(t string) uint32 {
	n, ok := e.numbers[t]
	if !ok {
		n = uint32(len(e.texts))
		e.texts, e.numbers[t] = append(e.texts, t), n
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
		e.tags = truth(u64(e.tags, uint64(t.Distance)), t.Best)
	}
	e.tagged[t] = n
	return n
}

func (e *encoder) file(c *Cached) {
	_, zone := c.Wall.Zone()
	for _, n := range []uint32{e.text(c.Path), e.text(c.Run), e.text(c.Session), uint32(zone)} {
		e.files = u32(e.files, n)
	}
	e.files = u32(u32(truth(e.files, c.Faulty), uint32(peopleOf(c.Lines))), uint32(len(c.Efforts)))
	e.files = u64(u64(e.files, c.Mark), uint64(c.Wall.UnixMilli()))
	for i := range c.Lines {
		l := &c.Lines[i]
		e.tag(l.Tags)
		e.lines[e.place(subject{l.Who, l.Movement})]++
		e.splits += l.Splits.Len()
	}
	for _, f := range c.Efforts {
		e.efforts = float(float(u32(e.efforts, e.text(f.Who)), f.Effort), f.Minutes)
	}
}

// place returns the number of a subject.
func (e *encoder) place(s subject) int {
	k, ok := e.places[s]
	if !ok {
		k = len(e.order)
		e.places[s], e.order, e.lines = k, append(e.order, s), append(e.lines, 0)
	}
	return k
}

// peopleOf is how many people the lines are of.
func peopleOf(lines []Line) int {
	var room [32]string
	who := room[:0]
	for i := range lines {
		if !slices.Contains(who, lines[i].Who) {
			who = append(who, lines[i].Who)
		}
	}
	return len(who)
}
