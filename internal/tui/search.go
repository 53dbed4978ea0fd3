package tui

import "strings"

// search is what a list must hold. '/' begins to type it, Esc shows all again.
type search struct {
	text   string
	typing bool
}

// key takes a key that is about the search, and reports whether it was one.
func (s *search) key(k input) bool {
	switch {
	case k.key == "esc" && s.narrows():
		*s = search{}
	case s.typing && k.key == "backspace":
		s.text = shorten(s.text)
	case s.typing && k.text != "":
		s.text += clean(k.text)
	case k.key == "/":
		s.typing = true
	default:
		return false
	}
	return true
}

// narrows reports whether less than all may be shown.
func (s *search) narrows() bool { return s.typing || s.text != "" }

func (s *search) holds(text string) bool {
	return strings.Contains(strings.ToLower(text), strings.ToLower(s.text))
}

// count says how many of all are left.
func (s *search) count(left int, all string) string {
	if s.narrows() {
		return itoa(left) + " of " + all + " hold “" + s.text + "”"
	}
	return all
}

// shorten is a text without its last letter.
func shorten(text string) string {
	r := []rune(text)
	return string(r[:max(0, len(r)-1)])
}
