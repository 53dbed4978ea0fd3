package coachfile

import (
	"bytes"
	"errors"
	"fmt"
	"regexp"
	"strings"

	"github.com/pelletier/go-toml/v2/unstable"
)

// value is one value: a scalar, a list or a table. at and end are offsets.
type value struct {
	kind    unstable.Kind // Array and InlineTable among the scalars' kinds
	at, end int
	text    string // a scalar: as it reads, a string without its quotes
	list    []*value
	table   *Table
	open    bool // a list made by [[headers]], which takes more of them
}

// Table is one table of a file.
type Table struct {
	file    *File
	at, end int // its header or opening brace; behind its last own line
	keys    map[string]*value
	order   []key
	asked   map[string]bool
	known   []string // what was asked for, in order
	how     origin
	scrap   bool // under a header that could not be read: nothing is said of it
}

type key struct {
	name string
	at   int
}

// origin tells how a table came about, which says how it may grow.
type origin int

const (
	implied origin = iota // by a longer header
	headed                // by its own header
	dotted                // by a dotted key
	inline                // in braces
)

// builder makes the tree of one file, expression by expression.
type builder struct {
	*File
	top, here *Table
	base      int // offset of what the parser has been given
}

// Read makes the tree of a file. The top table is never nil, so that a caller can
// ask on and all faults come out together.
func Read(name string, data []byte, limit int) (*File, *Table) {
	f := &File{name: name, data: data, starts: []int{0}}
	for i, c := range data {
		if c == '\n' {
			f.starts = append(f.starts, i+1)
		}
	}
	b := builder{File: f}
	b.top = b.table(0, headed)
	b.here = b.top
	if len(data) > limit {
		f.faults = Faults{{File: name, What: fmt.Sprintf("the file has more than %d bytes", limit), Write: "is it the right file?"}}
		f.broken = true
		return f, b.top
	}
	b.read()
	return f, b.top
}

// read goes on behind each slip at the next line that looks like a key or a
// header, so that one slip does not hide the next.
func (b *builder) read() {
	looksRight := regexp.MustCompile(`(?m)^[ \t]*(\[|[\w".-]+[ \t]*=)`)
	var p unstable.Parser
	if mark := []byte("\ufeff"); bytes.HasPrefix(b.data, mark) {
		b.base = len(mark) // some editors begin a file with it
	}
	for b.base < len(b.data) {
		p.Reset(b.data[b.base:])
		for p.NextExpression() {
			b.expression(&p, p.Expression())
		}
		if p.Error() == nil {
			return
		}
		b.broken = true
		slip := b.slip(&p)
		eol := bytes.IndexByte(b.data[slip:], '\n')
		if eol < 0 {
			return
		}
		next := looksRight.FindIndex(b.data[slip+eol+1:])
		if next == nil {
			return
		}
		b.base = slip + eol + 1 + next[0]
	}
}

// slip notes a syntax error and returns its offset.
func (b *builder) slip(p *unstable.Parser) int {
	at := len(b.data) - 1
	if e, ok := errors.AsType[*unstable.ParserError](p.Error()); ok && len(e.Highlight) > 0 {
		at = b.base + int(p.Range(e.Highlight).Offset)
	}
	if b.data[at] == '\n' && at > b.base && at > 0 {
		at-- // the line that stops short, not the next one
	}
	b.fault(at, "this cannot be read: "+p.Error().Error(), `write key = "text" or key = 5, one a line`)
	line := bytes.TrimLeft(b.data[b.starts[b.line(at)]:], " \t")
	if len(line) > 0 && line[0] == '[' {
		b.here = b.table(at, headed)
		b.here.scrap = true
	}
	return at
}

func (b *builder) line(offset int) int {
	line, _ := b.place(offset)
	return line - 1
}

func (b *builder) expression(p *unstable.Parser, n *unstable.Node) {
	switch n.Kind {
	case unstable.KeyValue:
		b.pair(p, b.here, n)
		b.here.end = b.eol(b.base + int(n.Raw.Offset+n.Raw.Length))
	case unstable.Table, unstable.ArrayTable:
		b.header(n)
	}
}

func (b *builder) table(at int, how origin) *Table {
	t := &Table{file: b.File, at: at, end: at, keys: map[string]*value{}, asked: map[string]bool{}, how: how}
	b.tables = append(b.tables, t)
	return t
}

func (t *Table) put(name string, at int, v *value) {
	t.keys[name] = v
	t.order = append(t.order, key{name, at})
}

// header enters [a.b] or [[a.b]].
func (b *builder) header(n *unstable.Node) {
	path := b.path(n)
	last := path[len(path)-1]
	t, wrong := b.walk(path[:len(path)-1])
	b.here = b.table(last.at, headed)
	b.here.end = b.eol(last.at)
	if wrong != "" {
		b.fault(last.at, wrong, "give it another name")
		b.here.scrap = true
		return
	}
	old := t.keys[last.name]
	switch {
	case n.Kind == unstable.ArrayTable && old == nil:
		t.put(last.name, last.at, &value{kind: unstable.Array, at: last.at, end: last.at, open: true, list: []*value{{kind: unstable.InlineTable, at: last.at, table: b.here}}})
	case n.Kind == unstable.ArrayTable && old.open:
		old.list = append(old.list, &value{kind: unstable.InlineTable, at: last.at, table: b.here})
	case n.Kind == unstable.Table && old == nil:
		t.put(last.name, last.at, &value{kind: unstable.InlineTable, at: last.at, table: b.here})
	case n.Kind == unstable.Table && old.table != nil && old.table.how == implied:
		old.table.how, old.table.at, old.table.end = headed, last.at, b.here.end
		b.here = old.table
	default:
		b.fault(last.at, fmt.Sprintf("%q is there already", last.name), "join the two, or write [["+last.name+"]] for each of several")
		b.here.scrap = true
	}
}

// walk follows the first parts of a header, making what is missing.
func (b *builder) walk(path []key) (*Table, string) {
	t := b.top
	for _, part := range path {
		v := t.keys[part.name]
		switch {
		case v == nil:
			next := b.table(part.at, implied)
			t.put(part.name, part.at, &value{kind: unstable.InlineTable, at: part.at, table: next})
			t = next
		case v.table != nil && v.table.how != inline:
			t = v.table
		case v.open:
			t = v.list[len(v.list)-1].table
		default:
			return nil, fmt.Sprintf("%q holds a value, not a table", part.name)
		}
	}
	return t, ""
}

// pair enters key = value into t; a dotted key makes tables on its way.
func (b *builder) pair(p *unstable.Parser, t *Table, n *unstable.Node) {
	path := b.path(n)
	last := path[len(path)-1]
	v := b.value(p, n.Value())
	b.placeList(v, last.at)
	for _, part := range path[:len(path)-1] {
		old := t.keys[part.name]
		switch {
		case old == nil:
			next := b.table(part.at, dotted)
			next.scrap = t.scrap
			t.put(part.name, part.at, &value{kind: unstable.InlineTable, at: part.at, table: next})
			t = next
		case old.table != nil && old.table.how == dotted:
			t = old.table
		default:
			b.fault(part.at, fmt.Sprintf("%q is there already", part.name), "join the two")
			return
		}
	}
	if _, twice := t.keys[last.name]; twice {
		b.fault(last.at, fmt.Sprintf("%q is there already", last.name), "keep one of the two")
		return
	}
	t.put(last.name, last.at, v)
}

func (b *builder) value(p *unstable.Parser, n *unstable.Node) *value {
	v := &value{kind: n.Kind, at: b.base + int(n.Raw.Offset), text: string(n.Data)}
	v.end = v.at + int(n.Raw.Length)
	switch n.Kind {
	case unstable.Array:
		for it := n.Children(); it.Next(); {
			v.list = append(v.list, b.value(p, it.Node()))
		}
	case unstable.InlineTable:
		v.table = b.table(v.at, inline)
		for it := n.Children(); it.Next(); {
			b.pair(p, v.table, it.Node())
		}
	}
	return v
}

func (b *builder) path(n *unstable.Node) []key {
	var path []key
	for it := n.Key(); it.Next(); {
		at := b.base + int(it.Node().Raw.Offset)
		path = append(path, key{strings.Clone(string(it.Node().Data)), at})
	}
	return path
}

// placeList gives a list the place of its first element, or of what holds it: the
// parser tells none.
func (b *builder) placeList(v *value, at int) {
	if v.kind != unstable.Array {
		return
	}
	v.at = at
	for _, element := range v.list {
		b.placeList(element, at)
	}
	if len(v.list) > 0 {
		v.at = v.list[0].at
	}
}

// eol returns the offset behind the line of a byte.
func (b *builder) eol(at int) int {
	if i := bytes.IndexByte(b.data[at:], '\n'); i >= 0 {
		return at + i + 1
	}
	return len(b.data)
}
