package presses

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"hawser/internal/coachfile"
	"hawser/internal/floor"
)

// limit is the largest file that is read: some 40,000 presses.
const limit = 1 << 20

// Parse reads a presses file. The error is [coachfile.Faults], every one of them.
func Parse(path string, src []byte, cast Cast) ([]Line, error) {
	if len(src) > limit {
		return nil, coachfile.Faults{{File: path, What: "the file is over 1 MiB", Write: "is it the right one?"}}
	}
	lines := make([]Line, 0, bytes.Count(src, []byte("\n"))+1)
	var faults coachfile.Faults
	cast.People = slices.Clone(cast.People)
	last, number := time.Duration(0), 0
	var words []word
	for text := range strings.SplitSeq(string(src), "\n") {
		number++
		r := reader{cast: &cast, words: words[:0]}
		r.split(strings.TrimSuffix(text, "\r"))
		words = r.words
		if r.fault == "" && len(r.words) == 0 {
			continue
		}
		line := Line{Number: number, At: r.clock("the time")}
		if r.fault == "" && line.At < last {
			r.fail(0, "the time goes back; write the lines in the order of the class")
		}
		r.action(&line)
		if r.fault != "" {
			faults = append(faults, coachfile.Fault{File: path, Line: number, Col: r.column, What: r.fault})
			continue
		}
		last = line.At
		lines = append(lines, line)
	}
	if len(faults) > 0 {
		return nil, faults
	}
	return lines, nil
}

// reader takes one line apart. Once it has a fault, it keeps that one and every
// further method answers zero.
type reader struct {
	cast   *Cast
	words  []word
	next   int
	fault  string
	column int
}

type word struct {
	text   string
	column int
	quoted bool
}

// split cuts a line into words; double quotes hold one together.
func (r *reader) split(line string) {
	if !utf8.ValidString(line) {
		r.fault, r.column = "the line is not UTF-8; save the file as UTF-8", 1
		return
	}
	for column := 1; line != ""; {
		switch c := line[0]; c {
		case '#':
			return
		case ' ', '\t':
			line = line[1:]
			column++
		case '"':
			text, after, ok := strings.Cut(line[1:], `"`)
			if !ok {
				r.fault, r.column = `a name begins with " and does not end; write a second "`, column
				return
			}
			r.words = append(r.words, word{text, column, true})
			line = after
			column += utf8.RuneCountInString(text) + 2
		default:
			text := line
			if end := strings.IndexAny(line, " \t\"#"); end >= 0 {
				text = line[:end]
			}
			if at := strings.IndexFunc(text, unicode.IsControl); at >= 0 {
				control, _ := utf8.DecodeRuneInString(text[at:])
				r.fault = fmt.Sprintf("the line holds the control character %U; delete it", control)
				r.column = column + utf8.RuneCountInString(text[:at])
				return
			}
			r.words = append(r.words, word{text, column, false})
			line = line[len(text):]
			column += utf8.RuneCountInString(text)
		}
	}
}

// fail notes what is wrong with word i of the line.
func (r *reader) fail(i int, format string, args ...any) {
	if r.fault != "" {
		return
	}
	r.fault, r.column = fmt.Sprintf(format, args...), 1
	if i < len(r.words) {
		r.column = r.words[i].column
	} else if n := len(r.words); n > 0 {
		last := r.words[n-1]
		r.column = last.column + utf8.RuneCountInString(last.text)
	}
}

// take returns the next word, or fails by what was expected there.
func (r *reader) take(what string) (string, bool) {
	if r.fault != "" {
		return "", false
	}
	if r.next >= len(r.words) {
		r.fail(r.next, "%s is missing", what)
		return "", false
	}
	r.next++
	return r.words[r.next-1].text, true
}

// rest returns all further words as one text.
func (r *reader) rest() string {
	var texts []string
	for ; r.fault == "" && r.next < len(r.words); r.next++ {
		texts = append(texts, r.words[r.next].text)
	}
	return strings.Join(texts, " ")
}

func (r *reader) more() bool { return r.fault == "" && r.next < len(r.words) }

// action reads what the line asks for: a key, or a verb with what belongs to it.
func (r *reader) action(line *Line) {
	at := r.next
	text, ok := r.take("a key or a verb")
	if !ok {
		return
	}
	if key, size := utf8.DecodeRuneInString(text); size == len(text) && !r.words[at].quoted {
		if !unicode.IsLetter(key) && !unicode.IsDigit(key) {
			r.fail(at, "%q is no key; write a letter or a digit", text)
			return
		}
		line.Key = key
	} else if read, ok := verbs[text]; ok {
		line.Command = read(r)
	} else {
		r.fail(at, "%q is neither a key nor a verb; the verbs are %s", text, strings.Join(verbNames(), ", "))
		return
	}
	if r.more() {
		r.fail(r.next, "%q is too much here; delete it", r.words[r.next].text)
	}
}

func verbNames() []string {
	var names []string
	for name := range verbs {
		names = append(names, name)
	}
	slices.Sort(names)
	return names
}

// verbs says what follows each verb.
var verbs = map[string]func(r *reader) floor.Command{
	"hold":   func(*reader) floor.Command { return floor.Hold{} },
	"resume": func(*reader) floor.Command { return floor.Resume{} },
	"again":  func(*reader) floor.Command { return floor.Again{} },
	"undo":   func(*reader) floor.Command { return floor.Undo{} },
	"skip":   func(*reader) floor.Command { return floor.Skip{} },
	"end":    func(*reader) floor.Command { return floor.End{} },
	"arrive": arrive,
	"leave":  func(r *reader) floor.Command { return floor.Leave{Who: r.person()} },
	"drop":   func(r *reader) floor.Command { return floor.Drop{Who: r.person(), Share: r.share()} },
	"by-hand": func(r *reader) floor.Command {
		return floor.ByHand{Who: r.person(), Round: r.round(), Work: r.clock("the split")}
	},
	"no-time": func(r *reader) floor.Command { return floor.NoTime{Who: r.person(), Round: r.round()} },
	"leg":     func(r *reader) floor.Command { return floor.LegDone{Who: r.person()} },
	"stop":    func(r *reader) floor.Command { return floor.StopNow{Who: r.person()} },
	"go":      func(r *reader) floor.Command { return floor.GoOn{Who: r.person()} },
	"done":    func(r *reader) floor.Command { return floor.DoneNow{Who: r.person()} },
	"off":     func(r *reader) floor.Command { return floor.OffSled{Who: r.person()} },
	"miss":    miss,
	"partial": partial,
	"effort":  func(r *reader) floor.Command { return floor.Effort{Who: r.person(), Effort: r.effort()} },
	"pain": func(r *reader) floor.Command {
		return floor.Pain{Who: r.person(), Pain: r.scale("the pain"), Site: r.rest()}
	},
	"load": func(r *reader) floor.Command { return floor.Change{Who: r.person(), By: r.change()} },
	"strike": func(r *reader) floor.Command {
		return floor.Strike{Who: r.person(), Round: r.round(), Reason: r.rest()}
	},
	"give":    func(r *reader) floor.Command { return floor.Give{Who: r.person(), Round: r.round(), To: r.person()} },
	"swap":    swap,
	"out":     func(r *reader) floor.Command { return floor.Out{On: r.sled()} },
	"back":    func(r *reader) floor.Command { return floor.Back{On: r.sled()} },
	"guest":   guest,
	"shorter": func(r *reader) floor.Command { return floor.Longer{By: -r.clock("the time to take off")} },
	"every":   func(r *reader) floor.Command { return floor.Interval{Every: r.clock("the interval")} },
	"metres":  func(r *reader) floor.Command { return floor.Metres{To: r.distance()} },
	"longer":  func(r *reader) floor.Command { return floor.Longer{By: r.clock("the time to add")} },
}
