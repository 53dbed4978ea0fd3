package tui

import (
	"cmp"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"unicode"

	tea "charm.land/bubbletea/v2"
	"golang.org/x/text/unicode/norm"

	"hawser/internal/coachfile"
	"hawser/internal/floor"
	"hawser/internal/lanes"
	"hawser/internal/measure"
	"hawser/internal/session"
)

// sessionSheet is a new session: its name, its aim, and its parts one after the
// other.
type sessionSheet struct {
	name, aim string
	parts     []*partSheet // the last one offers another

	want  *session.Session // as the rows say now, whatever its name; nil: they do not hold
	said  string           // want as a file, to see a change by
	fault string           // why not
	busy  bool             // a board is being made
	day   Day              // of the newest board
	board *lanes.Board
	plan  *floor.Plan
}

const mostParts = 6

func newSessionSheet() *sessionSheet {
	s := &sessionSheet{aim: string(session.Conditioning)}
	for range mostParts {
		s.parts = append(s.parts, newPartSheet())
	}
	*s.parts[0].at("format") = string(session.Every)
	return s
}

func (s *sessionSheet) title() string { return "a session" }

// chosen are the parts that have a format, up to the first that has none.
func (s *sessionSheet) chosen() []*partSheet {
	for i, p := range s.parts {
		if p.format() == "" {
			return s.parts[:i]
		}
	}
	return s.parts
}

func (s *sessionSheet) rows(w *World) []row {
	var formats, aims []string
	for _, f := range slices.Concat(session.Formats(), session.Breaks()) {
		formats = append(formats, string(f))
	}
	for _, a := range []session.Aim{session.Conditioning, session.Strength, session.Endurance} {
		aims = append(aims, string(a))
	}
	goal := session.Aim(s.aim)
	rows := []row{
		{name: "name", value: &s.name, check: func(name string) error { return s.free(w, name) }, hint: s.nameHint()},
		{name: "aim", value: &s.aim, options: aims, hint: aimHint(goal)},
	}
	chosen := s.chosen()
	for i, p := range s.parts[:min(len(chosen)+1, mostParts)] {
		choice := row{name: "format", value: p.at("format"), options: formats, hint: formatHint(p.format())}
		if i > 0 {
			choice.name, choice.options = "part "+itoa(i+1), append([]string{none}, formats...)
		}
		if i >= len(chosen) {
			choice.name, choice.hint = "another part", "after this one, in a format of its own, a rest among them; none: that is all"
		}
		rows = append(rows, choice)
		if i < len(chosen) {
			rows = append(rows, p.rows(w, goal)...)
		}
	}
	return rows
}

// reserved are the file names that Windows keeps for devices, whatever follows the dot.
var reserved = regexp.MustCompile(`^(con|prn|aux|nul|com\d|lpt\d)$`)

// free checks the name of a new session.
func (s *sessionSheet) free(w *World, name string) error {
	if _, err := coachfile.Line(name); err != nil {
		return err
	}
	file := slug(name)
	if file == "" {
		return &measure.Error{What: "no letter and no digit is in the name", Write: "some"}
	}
	if reserved.MatchString(file) {
		return &measure.Error{What: "no file can be called " + file + " on Windows", Write: "a longer name"}
	}
	for _, other := range w.Sessions {
		if strings.EqualFold(other.Name, file) {
			return &measure.Error{What: "sessions/" + file + ".toml is there already", Write: "another name; nothing is written over"}
		}
	}
	return nil
}

// file is the session's name on the command line.
func (s *sessionSheet) file() string { return slug(s.name) }

func (s *sessionSheet) nameHint() string {
	if file := s.file(); file != "" {
		return "writes sessions/" + file + ".toml"
	}
	return "what the wall calls it; the file is named after it"
}

// slug is a title as a file name: letters and digits in small, else hyphens.
func slug(title string) string {
	var b strings.Builder
	for _, r := range strings.ToLower(norm.NFC.String(title)) {
		switch {
		case unicode.IsLetter(r), unicode.IsDigit(r):
			b.WriteRune(r)
		case b.Len() > 0 && !strings.HasSuffix(b.String(), "-"):
			b.WriteByte('-')
		}
	}
	name := []rune(strings.Trim(b.String(), "-"))
	return strings.TrimRight(string(name[:min(len(name), 40)]), "-")
}

// session is what the rows say, held to what a file may say.
func (s *sessionSheet) session(w *World) (*session.Session, error) {
	for _, r := range s.rows(w) {
		if say := r.wrong(); say != "" && r.name != "name" {
			return nil, fmt.Errorf("%s: %s", strings.TrimSpace(r.name), say)
		}
	}
	made := &session.Session{Title: cmp.Or(given(s.name, coachfile.Line), "New"), Aim: session.Aim(s.aim)}
	for _, p := range s.chosen() {
		made.Parts = append(made.Parts, p.part(w, p.answer))
	}
	whole, err := session.Parse(cmp.Or(s.file(), "new")+".toml", session.Write(made))
	if err != nil {
		return nil, err
	}
	if faults := session.Check(whole, w.Roster, w.Kit); len(faults) > 0 {
		return nil, faults
	}
	return whole, nil
}

func (s *sessionSheet) change(w *World) (Change, error) {
	made, err := s.session(w)
	if err != nil {
		return Change{}, err
	}
	return Change{File: "sessions/" + made.Name + ".toml", New: true, Done: made.Title + " is written", Edit: func([]byte) ([]byte, error) {
		return session.Write(made), nil
	}}, nil
}

// look asks for the board of what the rows say; one at a time, the newest last.
func (s *sessionSheet) look(w *World) tea.Cmd {
	made, err := s.session(w)
	if err != nil {
		s.want, s.said, s.fault = nil, "", err.Error()
		return nil
	}
	made.Title = "New"
	if said := string(session.Write(made)); said != s.said {
		s.want, s.said = made, said
	}
	s.fault = ""
	return s.deal(w)
}

func (s *sessionSheet) deal(w *World) tea.Cmd {
	if s.busy || s.want == nil || s.want == s.day.Session {
		return nil
	}
	s.busy = true
	d, board := Day{Session: s.want, Kit: w.Kit}, w.Board
	return func() tea.Msg {
		b, plan, err := board(d)
		return looked{s, boarded{d, b, plan, err}}
	}
}

// looked is a board for a sheet, which may not be on the screen any more.
type looked struct {
	by *sessionSheet
	boarded
}

func (s *sessionSheet) take(w *World, x boarded) tea.Cmd {
	s.busy, s.day, s.board, s.plan = false, x.day, x.board, x.plan
	if x.err != nil {
		s.fault = x.err.Error()
	}
	return s.deal(w)
}
