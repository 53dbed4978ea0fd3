package tui

import (
	"errors"
	"fmt"
	"strings"
	"testing"
	"time"
)

// struck strikes keys on the screen that m is on, and hands back what they ask for.
func struck(m *Model, keys ...string) {
	for _, key := range keys {
		text := ""
		if len(key) == 1 {
			text = key
		}
		if cmd := m.on.key(m, input{key: key, text: text}); cmd != nil {
			m.Update(cmd())
		}
	}
}

// TestLogs: the logs lead from the picker into a replay and back, and '/' searches them.
func TestLogs(t *testing.T) {
	t.Parallel()
	var l ledger
	asked := ""
	w := world(everyPart(), 4, 4, nil)
	w.Recent = func() []Recent {
		var all []Recent
		for i := range 40 {
			all = append(all, Recent{
				Log: fmt.Sprint(i), Wall: time.Date(2026, 11, 25, 18, 0, 0, 0, time.UTC).AddDate(0, 0, -i),
				Session: []string{"slack-water", "ebb-tide"}[i%2], People: 1 + i%5,
			})
		}
		return all
	}
	w.Replay = func(log string) (*Replay, error) {
		if asked = log; log == "3" {
			return nil, errors.New("its first line is gone")
		}
		return replayOf(t, &l), nil
	}
	m := modelOn(w, sizes[1])
	m.on = newPicker(w)
	struck(m, "l")
	golden(t, "logs", m.on.draw(m))
	struck(m, "/", "1", "1", "-", "2", "4")
	if page := m.on.draw(m).Plain(); !strings.Contains(page, "1 of 40 logs hold “11-24”") || strings.Contains(page, "slack-water") {
		t.Errorf("a day is searched for:\n%s", page)
	}
	struck(m, "enter")
	if _, ok := m.on.(*Replay); !ok || asked != "1" {
		t.Fatalf("Enter leads to %T of run %q, want a replay of run 1", m.on, asked)
	}
	struck(m, "esc", "esc", "down", "down", "down", "enter")
	if page := m.on.draw(m).Plain(); !strings.Contains(page, "its first line is gone") {
		t.Errorf("a log that cannot be told:\n%s", page)
	}
	if struck(m, "esc"); m.on == nil {
		t.Fatal("Esc leads nowhere")
	} else if _, ok := m.on.(*picker); !ok {
		t.Errorf("Esc leads to %T, want the picker", m.on)
	}
}

// TestMusterSearch: '/' finds somebody on a long list and Enter marks them; letters
// are text until then.
func TestMusterSearch(t *testing.T) {
	t.Parallel()
	w := world(everyPart(), 4, 4, nil)
	m := modelOn(w, sizes[1])
	v := newMuster(w, w.Sessions[0])
	m.on = v
	struck(m, "/", "o", "d")
	if page := m.on.draw(m).Plain(); !strings.Contains(page, "1 hold “od”") || strings.Contains(page, "Maren") {
		t.Errorf("a name is searched for:\n%s", page)
	}
	if struck(m, "enter"); !v.here["Odd"] || len(v.here) != 1 || v.search.typing {
		t.Errorf("here are %v, want Odd alone", v.here)
	}
	struck(m, "/", "x", "enter", "/", "m", "esc")
	if len(v.here) != 1 || !strings.Contains(m.on.draw(m).Plain(), "Maren") {
		t.Errorf("nobody was found, and here are %v", v.here)
	}
}

// BenchmarkPickerSearch is a key of a search over 2,000 sessions, and its frame.
func BenchmarkPickerSearch(b *testing.B) {
	w := world(everyPart(), 4, 4, nil)
	one := *w.Sessions[0]
	for i := range 2000 {
		s := one
		s.Name = fmt.Sprintf("session-%04d", i)
		s.Title = "Slack water " + s.Name
		w.Sessions = append(w.Sessions, &s)
	}
	m := modelOn(w, sizes[1])
	m.on = newPicker(w)
	struck(m, "/")
	for b.Loop() {
		struck(m, "7", "backspace")
		m.on.draw(m)
	}
}
