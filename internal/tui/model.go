package tui

import (
	"time"

	tea "charm.land/bubbletea/v2"

	"hawser/internal/floor"
	"hawser/internal/house"
	"hawser/internal/kit"
	"hawser/internal/lanes"
	"hawser/internal/measure"
	"hawser/internal/review"
	"hawser/internal/roster"
	"hawser/internal/session"
)

// Day is what a board is made from: the session, who is here, what of the kit is
// there today, and what the coach has moved by hand.
type Day struct {
	Session *session.Session
	Who     []string // of the roster, in its order
	Guests  []string // by name alone
	Kit     *kit.Kit
	Edits   []lanes.Edit
}

// Log is an open run: what it holds already, when its room time was 0, and where
// more goes. Zero keeps its monotonic reading: room time counts from it.
type Log struct {
	Keeper Keeper
	Past   []floor.Stamped // Opened first
	Zero   time.Time
}

// World is what the screens reach the rest of the program through. Functions may
// take their time: they are called outside the event loop.
type World struct {
	Roster   *roster.Roster
	Kit      *kit.Kit
	House    *house.House
	Notice   string               // said on the first screen: that this is the demo home
	Sessions []*session.Session   // for the picker
	Ran      map[string]time.Time // when each session was run last, by name
	Session  *session.Session     // chosen already; nil: the picker comes first
	Here     []string             // who is here, from the command line; nil: asked
	Yes      bool                 // straight to the class: those of Here, the board as it is
	Clock    *Clock               // of the run; the sound has the same
	Cues     Cues

	// Rest reads what the first screen does not wait for: the sessions that Sessions
	// has not, and Ran. nil once it is there.
	Rest  func() ([]*session.Session, map[string]time.Time)
	Board func(Day) (*lanes.Board, *floor.Plan, error)
	Open  func(*floor.Plan) (*Log, error)
	// Change edits a file of the home and returns what the home then holds: roster,
	// kit, house, sessions, Board, Before and Notice. nil: nothing can be changed here.
	Change func(Change) (*World, error)
	// Before returns last time's rounds of a session, by part from 1 and name, with
	// times from the first GO of that run; nil where there was no last time.
	Before func(session string) func(part int, who string) []floor.Round
	// Next works out next time from what a run says; nil: there is none.
	Next func(*review.Report, *floor.Plan) (*Coming, error)
	// Week is the page of the week of a day, in 80 columns.
	Week func(day time.Time) (string, error)
	// Recent lists the runs of the home, the newest first, and Replay opens a log of
	// them. nil: there is none.
	Recent func() []Recent
	Replay func(log string) (*Replay, error)
	Resume *Log // a run to take up again; nil: none
	After  *Log // a run that is over, for its page after class and nothing else; nil: none
}

// input is a key at the instant it was struck.
type input struct {
	key  string // as the terminal library names it: "enter", "ctrl+c", "m"
	text string // what it types, "" for none
	at   time.Time
	msg  tea.KeyPressMsg
}

// screen is one of picker, who is here, board, run, after class, replay.
type screen interface {
	draw(m *Model) *Page
	key(m *Model, k input) tea.Cmd
}

// Model is the root: which screen is on, the size, and the page as it was last
// drawn. It is drawn anew only when something changed.
type Model struct {
	world  *World
	look   Look
	stamps *stamps
	on     screen
	live   *Live            // once a run was opened
	drafts map[string]*form // forms that were begun, by the title of their sheet
	w, h   int
	page   string
	stale  bool
	drawn  time.Time // when page was
	later  bool      // a redraw will come
	leave  time.Time // of the first Ctrl-C
	asked  bool      // to leave; the next Ctrl-C within 3 s does
}

// failed is an error from the world, for the screen.
type failed struct{ err error }

// NewModel returns the root on its first screen.
func NewModel(w *World, look Look) *Model {
	m := &Model{}
	m.begin(w, look)
	return m
}

// begin puts up the first screen.
func (m *Model) begin(w *World, look Look) {
	look.Style = measure.Style{MassUnit: w.House.Show, DistanceUnit: w.House.ShowDistance, Decimal: w.House.Decimal}
	look.Mouse = w.House.Mouse
	m.world, m.look, m.w, m.h, m.stale = w, look.ready(), 80, 24, true
	if m.on = newPicker(w); w.Session != nil {
		m.on = newMuster(w, w.Session)
	}
	if w.Resume != nil {
		m.on = newOffer(w.Resume, m.on)
	}
	if w.After != nil {
		w.Clock.Restart(w.After.Zero)
		m.live = newLive(w.Clock, w.After.Keeper, w.Cues, w.After.Past)
		m.on = newAfter(newClassroom(m.live, w.Kit.Sleds))
	}
}

// Init starts what needs no key: a second screen, a class that needs no questions.
func (m *Model) Init() tea.Cmd {
	switch v := m.on.(type) {
	case *watcher:
		return v.poll(0)
	case *Beats:
		return v.arm()
	case *muster:
		if m.world.Yes {
			b := newBoardroom(v, v.day(m.world))
			b.straight, m.on = true, b
			return b.make(m.world)
		}
	}
	if rest := m.world.Rest; rest != nil {
		return tea.Tick(afterFirst, func(time.Time) tea.Msg {
			sessions, ran := rest()
			return rested{sessions, ran}
		})
	}
	return nil
}

// afterFirst is when what the first frame does not need is read: with the frame on
// the screen, so that neither has to share a core.
const afterFirst = 60 * time.Millisecond

// rested is what Rest has read.
type rested struct {
	sessions []*session.Session
	ran      map[string]time.Time
}

// enter opens the classroom on a log. Guests whom the board has no place for join
// as they would in the middle of a class.
func (m *Model) enter(log *Log, b *boardroom) tea.Cmd {
	m.world.Clock.Restart(log.Zero)
	m.live = newLive(m.world.Clock, log.Keeper, m.world.Cues, log.Past)
	plan := m.live.st.Plan()
	room := newClassroom(m.live, m.world.Kit.Sleds)
	if m.world.Before != nil {
		room.before = m.world.Before(plan.Session)
	}
	m.on = room
	cmds := []tea.Cmd{m.live.arm()}
	if b != nil {
		room.planned = b.board.Ends
		for _, name := range b.day.Guests {
			if m.live.person(name) < 0 {
				cmds = append(cmds, m.live.ask(0, floor.Guest{Who: name}))
			}
		}
	}
	return tea.Batch(cmds...)
}

// redraw asks for what View has put off.
type redraw struct{}

// atMost is the least time between two drawings: of a thousand keys a second none
// may wait for the screen.
const atMost = time.Second / 60

// Update takes a message.
func (m *Model) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	_, cmd := m.take(msg)
	if wait := atMost - time.Since(m.drawn); m.stale && wait > 0 && !m.later {
		m.later = true
		cmd = tea.Batch(cmd, tea.Tick(wait, func(time.Time) tea.Msg { return redraw{} }))
	}
	return m, cmd
}

func (m *Model) take(msg tea.Msg) (tea.Model, tea.Cmd) {
	m.stale = true
	switch msg := msg.(type) {
	case redraw:
		m.later = false
	case tea.WindowSizeMsg:
		m.w, m.h = msg.Width, msg.Height
	case tea.KeyPressMsg:
		return m, m.struck(msg)
	case tea.MouseClickMsg:
		if c, ok := m.on.(*classroom); ok && m.look.Mouse && msg.Button == tea.MouseLeft {
			return m, c.point(msg.X, msg.Y, m.world.Clock.Now())
		}
	case kept:
		cmd := m.live.keep(msg)
		if m.live.leaving && !m.live.writing {
			cmd = tea.Quit
		}
		return m, cmd
	case ticked:
		return m, m.live.tick(msg)
	case played:
		if r, ok := m.on.(*Replay); ok {
			return m, r.advance(msg)
		}
	case beaten:
		if b, ok := m.on.(*Beats); ok && msg.gen == b.gen {
			return m, b.arm()
		}
	case polled:
		if v, ok := m.on.(*watcher); ok {
			return m, v.take(msg, m)
		}
	case boarded:
		if b, ok := m.on.(*boardroom); ok {
			return m, b.take(msg, m.world)
		}
	case looked:
		return m, msg.by.take(m.world, msg.boarded)
	case rested:
		m.world.add(msg)
	case changed:
		return m, m.settle(msg)
	case tea.PasteMsg:
		if f, ok := m.on.(*form); ok {
			return m, f.typed(m, msg)
		}
	case opened:
		b, _ := m.on.(*boardroom)
		return m, m.enter(msg.log, b)
	case came:
		switch m.on.(type) {
		case *Replay, *after: // still there
			m.on = newNextTime(msg.coming, m.on)
		}
	case listed:
		if v, ok := m.on.(*logList); ok {
			v.take(msg)
		}
	case unrolled:
		if v, ok := m.on.(*logList); ok {
			v.replay(m, msg)
		}
	case decided:
		if v, ok := m.on.(*nextTime); ok {
			v.take(msg)
		}
	case weekMade:
		if v, ok := m.on.(*weekPage); ok {
			v.take(msg)
		}
	case failed:
		if s, ok := m.on.(interface{ fail(error) }); ok {
			s.fail(msg.err)
		}
	default:
		m.stale = false
	}
	return m, nil
}

// struck is a key: Ctrl-C anywhere, else the screen's.
func (m *Model) struck(k tea.KeyPressMsg) tea.Cmd {
	in := input{key: k.String(), text: k.Text, at: m.stamps.of(k.Text, time.Now()), msg: k}
	switch in.key {
	case "ctrl+c":
		return m.interrupt(in)
	case "ctrl+z":
		return nil // a class is not put aside
	}
	if in.text == "" || !typing(m.on) {
		if usual := NewKeys(m.world.House, placeOf(m.on)).Usual(in.key); usual != in.key {
			if usual == "" && typing(m.on) {
				usual = in.key // the key that it moved to may type a letter here
			}
			in.key, in.text = usual, ""
		}
		if in.key == "" {
			return nil
		}
	}
	if h, ok := m.on.(helped); ok && in.key == "?" {
		if hints := h.help(); hints != nil {
			m.on = &keyList{back: m.on, hints: hints}
			return nil
		}
	}
	return m.on.key(m, in)
}

// typing reports whether what is struck on a screen is text.
func typing(s screen) bool {
	switch s := s.(type) {
	case *classroom, *watcher:
		return false
	case helped:
		return s.help() == nil
	}
	return true
}

// interrupt leaves at once where nothing runs; a run asks for a second one.
func (m *Model) interrupt(in input) tea.Cmd {
	c, running := m.on.(*classroom)
	if running && (!m.asked || in.at.Sub(m.leave) > sure) {
		m.asked, m.leave = true, in.at
		c.live.tell("Ctrl-C once more within 3 s leaves; the class is kept", Warn)
		return nil
	}
	return tea.Interrupt
}

// View draws what changed, unless a redraw will come.
func (m *Model) View() tea.View {
	if m.stale && !m.later {
		m.look.keys = NewKeys(m.world.House, placeOf(m.on))
		m.page, m.stale, m.drawn = m.on.draw(m).String(m.look.theme), false, time.Now()
	}
	v := tea.NewView(m.page)
	v.AltScreen = true
	v.WindowTitle = "hawser"
	v.BackgroundColor, v.ForegroundColor = m.look.theme.Back, m.look.theme.Fore
	if _, run := m.on.(*classroom); run { // a held key is told from two presses
		v.KeyboardEnhancements = tea.KeyboardEnhancements{
			ReportEventTypes: true, ReportAllKeysAsEscapeCodes: true, ReportAssociatedText: true, ReportAlternateKeys: true,
		}
	}
	if m.look.Mouse {
		v.MouseMode = tea.MouseModeCellMotion
	}
	return v
}

// key hands a key to the run.
func (c *classroom) key(m *Model, k input) tea.Cmd {
	if k.msg.IsRepeat && actionOf(k.key) < TileLeft {
		return nil // held, as the terminal itself tells
	}
	c.live.wake()
	cmd, over := c.press(k.key, k.text, c.live.clock.At(k.at))
	if over {
		m.on = newAfter(c)
	}
	return cmd
}
