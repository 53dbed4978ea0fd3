package history

import "bytes"

// scanner takes JSON apart from front to back. It knows one shape, the logbook's,
// and is not ok at anything else: then a decoder that knows all of JSON is asked.
type scanner struct {
	rest []byte
	ok   bool
}

// skip steps over exactly that if it stands there.
func (s *scanner) skip(w string) bool {
	if len(s.rest) < len(w) || string(s.rest[:len(w)]) != w {
		return false
	}
	s.rest = s.rest[len(w):]
	return true
}

// word steps over exactly that.
func (s *scanner) word(w string) { s.ok = s.ok && s.skip(w) }

// more reports whether another value of an array, of which n were read, begins
// here; else it steps over the array's end.
func (s *scanner) more(n int) bool {
	if !s.ok || s.skip(`]`) {
		return false
	}
	if n > 0 {
		s.word(`,`)
	}
	return s.ok
}

// number reads a whole number that is not negative.
func (s *scanner) number() int {
	n, i := 0, 0
	for i < len(s.rest) && i < 18 && s.rest[i] >= '0' && s.rest[i] <= '9' {
		n = 10*n + int(s.rest[i]-'0')
		i++
	}
	s.ok = s.ok && i > 0 && (s.rest[0] != '0' || i == 1)
	s.rest = s.rest[i:]
	return n
}

// text reads to the closing quote; an escape is not for this scanner.
func (s *scanner) text() []byte {
	end := bytes.IndexByte(s.rest, '"')
	if s.ok = s.ok && end >= 0 && bytes.IndexByte(s.rest[:max(end, 0)], '\\') < 0; !s.ok {
		return nil
	}
	t := s.rest[:end]
	s.rest = s.rest[end+1:]
	return t
}

// said reads to the closing quote as a text.
func (s *scanner) said(m *same) string {
	w, ok := m.word(s.text())
	s.ok = s.ok && ok
	return w
}

// raw reads a text, a list or an object as it stands, unless there is an escape in it.
func (s *scanner) raw() []byte {
	depth := 0
	for i := 0; s.ok && i < len(s.rest); i++ {
		switch s.rest[i] {
		case '"':
			end := bytes.IndexByte(s.rest[i+1:], '"')
			if s.ok = end >= 0 && bytes.IndexByte(s.rest[i+1:i+1+end], '\\') < 0; !s.ok {
				return nil
			}
			i += 1 + end
		case '{', '[':
			depth++
			continue
		case '}', ']':
			depth--
		default:
			continue
		}
		if depth <= 0 {
			raw := s.rest[:i+1]
			s.rest = s.rest[i+1:]
			return raw
		}
	}
	s.ok = false
	return nil
}
