package tui

import (
	"slices"
	"strings"

	"charm.land/bubbles/v2/key"
	tea "charm.land/bubbletea/v2"
	"charm.land/huh/v2"
)

// form is a sheet being filled in, one row a field, and beside it what the coach
// should know meanwhile. Typing and choosing are huh's, on fields of one line;
// rows, labels and the ways between them are ours, so that a form looks like the
// other screens and needs no messages of its own. Esc goes back and keeps what
// was typed: the sheet waits in the model.
type form struct {
	sheet  sheet
	rows   []row
	fields []huh.Field
	huh    *huh.Form
	at     int    // the row being filled in
	say    string // what is wrong with it, or what was done
	good   bool   // say is good news
	saving bool
	early  []input // struck while it is being written: they are for what comes next
}

// sheet is one thing that a form asks for: a person, a sled, a session.
type sheet interface {
	title() string
	// rows returns the fields for the answers so far: an answer may bring others,
	// and may fill in what nobody has written yet.
	rows(w *World) []row
	// panel is what the coach should know meanwhile, in lines of at most w columns.
	panel(m *Model, w int) [][]Said
	// change returns the file's change once every row holds.
	change(w *World) (Change, error)
}

// living is a sheet that works something out while it is being filled in.
type living interface {
	sheet
	look(w *World) tea.Cmd
	short() string // for the top line
}

// doubting is a sheet that asks back where an answer holds but is unlikely.
type doubting interface {
	doubt(m *Model) string
}

// row is one field. value points into the sheet.
type row struct {
	name    string
	value   *string
	options []string // one of these; nil: typed
	check   func(string) error
	hint    string // what can be written here
	card    string // the movement whose card stands beside it; "" for none
	empty   string // shown where nothing is written
}

// wrong says what is wrong with what is written, and what to write.
func (r *row) wrong() string {
	if r.check == nil || r.options != nil {
		return ""
	}
	if err := r.check(strings.TrimSpace(*r.value)); err != nil {
		return err.Error()
	}
	return ""
}

// Change is one edit of a file of the home. A new file must not be there yet; the
// source of one that is not there is empty.
type Change struct {
	File string // "roster.toml", "sessions/slack-water.toml"
	New  bool
	Edit func(src []byte) ([]byte, error)
	Done string // said when it is written
}

// changed is a home after a change, or why there was none.
type changed struct {
	form  *form
	done  string
	world *World
	err   error
}

func newForm(m *Model, s sheet) *form {
	f := &form{sheet: s}
	f.build(m)
	return f
}

// build makes the fields anew for the rows that there are, and stays on its row.
func (f *form) build(m *Model) {
	f.rows, f.fields = f.sheet.rows(m.world), nil
	for i := range f.rows {
		r := &f.rows[i]
		if r.options != nil {
			f.fields = append(f.fields, huh.NewSelect[string]().Options(huh.NewOptions(r.options...)...).Value(r.value).Inline(true))
		} else {
			f.fields = append(f.fields, huh.NewInput().Prompt("").CharLimit(formMost).Value(r.value))
		}
	}
	f.huh = huh.NewForm(huh.NewGroup(f.fields...)).WithShowHelp(false).WithShowErrors(false).WithKeyMap(formKeys()).WithTheme(formTheme(&m.look))
	f.huh.Init()
	at := min(f.at, len(f.rows)-1)
	for f.at = 0; f.at < at; f.at++ {
		f.huh.Update(huh.NextField())
	}
}

// formMost is more than any line of a coach's file may hold.
const formMost = 240

// formKeys leaves huh the arrows that choose; all other ways are the form's own.
func formKeys() *huh.KeyMap {
	none := key.NewBinding()
	k := huh.NewDefaultKeyMap()
	k.Quit = none
	k.Input = huh.InputKeyMap{AcceptSuggestion: none, Next: none, Prev: none, Submit: none}
	k.Select = huh.SelectKeyMap{
		Left: key.NewBinding(key.WithKeys("left")), Right: key.NewBinding(key.WithKeys("right")),
		Next: none, Prev: none, Up: none, Down: none, HalfPageUp: none, HalfPageDown: none,
		GotoTop: none, GotoBottom: none, Filter: none, SetFilter: none, ClearFilter: none, Submit: none,
	}
	return k
}

func (f *form) key(m *Model, k input) tea.Cmd {
	if f.saving {
		f.early = append(f.early, k)
		return nil
	}
	f.say, f.good = "", false
	switch k.key {
	case "esc":
		m.on = newMenu(m.world)
		return nil
	case "ctrl+s":
		return f.save(m)
	case "enter", "tab", "down":
		if f.say = f.rows[f.at].wrong(); f.say != "" {
			return nil
		}
		if f.at == len(f.rows)-1 {
			if k.key == "enter" {
				return f.save(m)
			}
			return nil
		}
		f.step(1)
	case "up", "shift+tab":
		f.step(-1)
	case "left":
		return f.typed(m, tea.KeyPressMsg{Code: tea.KeyLeft})
	case "right":
		return f.typed(m, tea.KeyPressMsg{Code: tea.KeyRight})
	default:
		return f.typed(m, k.msg)
	}
	return nil
}

// step goes to the next row, or the one before.
func (f *form) step(by int) {
	to := max(0, min(len(f.rows)-1, f.at+by))
	for ; f.at < to; f.at++ {
		f.huh.Update(huh.NextField())
	}
	for ; f.at > to; f.at-- {
		f.huh.Update(huh.PrevField())
	}
}

// typed hands a key or pasted text to the field. A letter on a choice goes to the
// next one that begins with it.
func (f *form) typed(m *Model, msg tea.Msg) tea.Cmd {
	r := &f.rows[f.at]
	k, struck := msg.(tea.KeyPressMsg)
	if struck && r.options != nil && k.Text != "" {
		r.leap(k.Text)
		f.build(m)
	} else {
		f.huh.Update(msg)
	}
	return f.follow(m)
}

// leap goes to the next option that begins with a letter.
func (r *row) leap(letter string) {
	at := slices.Index(r.options, *r.value)
	for i := range r.options {
		o := r.options[(at+1+i)%len(r.options)]
		if strings.HasPrefix(strings.ToLower(o), strings.ToLower(letter)) {
			*r.value = o
			return
		}
	}
}

// follow takes the rows anew after an answer: others may have come, and others
// may have been filled in.
func (f *form) follow(m *Model) tea.Cmd {
	before := f.shape()
	f.rows = f.sheet.rows(m.world)
	if f.shape() != before {
		f.build(m)
	}
	for i := range f.rows {
		if in, ok := f.fields[i].(*huh.Input); ok && i != f.at {
			in.Value(f.rows[i].value)
		}
	}
	if s, ok := f.sheet.(living); ok {
		return s.look(m.world)
	}
	return nil
}

// shape is which rows there are, with their choices.
func (f *form) shape() string {
	var b strings.Builder
	for i := range f.rows {
		b.WriteString(f.rows[i].name + "\x00" + strings.Join(f.rows[i].options, "\x00") + "\n")
	}
	return b.String()
}

// save writes the file, unless a row does not hold: then it goes there.
func (f *form) save(m *Model) tea.Cmd {
	for i := range f.rows {
		if say := f.rows[i].wrong(); say != "" {
			f.step(i - f.at)
			f.say = say
			return nil
		}
	}
	c, err := f.sheet.change(m.world)
	if err != nil {
		f.say = err.Error()
		return nil
	}
	f.saving = true
	write := m.world.Change
	return func() tea.Msg {
		w, err := write(c)
		return changed{f, c.Done, w, err}
	}
}

// settle is a change that was made, or was not. The next one of its kind can
// follow at once; a session that was made waits in the picker.
func (m *Model) settle(x changed) tea.Cmd {
	f := x.form
	early := f.early
	f.saving, f.early = false, nil
	if x.err != nil {
		f.say = x.err.Error()
		return nil
	}
	m.world.renew(x.world)
	delete(m.drafts, f.sheet.title())
	if s, ok := f.sheet.(*sessionSheet); ok {
		m.on = newPicker(m.world).on(s.file())
	} else {
		next := m.open(f.sheet.title())
		next.say, next.good = x.done, true
	}
	var cmds []tea.Cmd
	for _, k := range early {
		cmds = append(cmds, m.on.key(m, k))
	}
	return tea.Batch(cmds...)
}

// add takes over what Rest has read.
func (w *World) add(r rested) {
	w.Sessions, w.Ran, w.Rest = append(w.Sessions, r.sessions...), r.ran, nil
}

// renew takes over what a changed home holds, all of it read.
func (w *World) renew(from *World) {
	w.Roster, w.Kit, w.House, w.Sessions = from.Roster, from.Kit, from.House, from.Sessions
	w.Board, w.Before, w.Notice = from.Board, from.Before, from.Notice
}
