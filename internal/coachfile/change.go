package coachfile

import (
	"bytes"
	"slices"
	"strings"
)

// End returns the offset behind the last line of a table and of all below it: the
// comments that follow belong to what comes next.
func (t *Table) End() int {
	end := t.end
	for _, v := range t.keys {
		if v.table != nil {
			end = max(end, v.table.End())
		}
		for _, element := range v.list {
			if element.table != nil {
				end = max(end, element.table.End())
			}
		}
	}
	return end
}

// Start returns the offset of the line a table begins on, the comments right
// above it included.
func (t *Table) Start() int {
	line, _ := t.file.place(t.at)
	line-- // from 0
	for line > 0 && bytes.HasPrefix(bytes.TrimSpace(t.file.data[t.file.starts[line-1]:t.file.starts[line]]), []byte("#")) {
		line--
	}
	return t.file.starts[line]
}

// Written tells whether a list is made of [[headers]], so that one more header
// can follow; a list in brackets is the coach's to change.
func (t *Table) Written(key string) bool {
	v := t.keys[key]
	return v == nil || v.open
}

// Span returns where the value of a key stands, from its first byte to behind its last.
func (t *Table) Span(key string) (from, to int) {
	v := t.keys[key]
	return v.at, v.end
}

// Insert puts text at an offset where a line begins or the file ends, with the
// line ends the file has.
func Insert(data []byte, offset int, text string) []byte {
	if offset > 0 && data[offset-1] != '\n' {
		text = "\n" + text
	}
	if bytes.Contains(data, []byte("\r\n")) {
		text = strings.ReplaceAll(text, "\n", "\r\n")
	}
	return slices.Concat(data[:offset], []byte(text), data[offset:])
}

// Quote writes a text that [CheckText] takes as TOML.
func Quote(s string) string {
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(s) + `"`
}

// QuoteAll writes a list of texts as TOML.
func QuoteAll(list []string) string {
	quoted := make([]string, len(list))
	for i, s := range list {
		quoted[i] = Quote(s)
	}
	return "[" + strings.Join(quoted, ", ") + "]"
}
