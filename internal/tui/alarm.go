package tui

import "slices"

// drawAlarm shows whom to call and where this is, as large as there is room for.
func (c *classroom) drawAlarm(p *Page, r Rect, k *Look, times int) {
	p.Fill(r, " ", Body)
	h := c.live.house
	large := []Said{
		{"call " + orUnknown(h.Emergency, "emergency"), Stopped},
		{"at " + orUnknown(h.Address, "address"), Strong},
		{"defibrillator " + orUnknown(h.Defibrillator, "defibrillator"), Strong},
	}
	small := []Said{
		{"EMERGENCY: clock and sound are stopped", Stopped},
		{"chest pain or fainting: call first, then stay with them", Body},
		{k.keys.said("Esc closes this; the clock stays stopped"), Dim},
	}
	in, y := r.in(1), 0
	for i, l := range append(large, small...) {
		left := max(0, len(large)-1-i) + len(small) // lines still to come, at least
		if i < len(large) {
			y += p.largest(in.rows(y, in.H-y-left), times, l, k)
			continue
		}
		for _, line := range wrap(l.Text, in.W) {
			p.Text(in, 0, y, line, l.Ink)
			y++
		}
	}
}

// largest writes a text as large as r has room for, as lines where the three-row
// face has none, and returns the rows that it took.
func (p *Page) largest(r Rect, times int, s Said, k *Look) int {
	for ; times > 0; times-- {
		each := face3Rows(times) + 1
		lines := wrap(s.Text, r.W/(5*times))
		if each*len(lines) > r.H || slices.ContainsFunc(lines, func(line string) bool { return !canLarge(r, times, line, k.Mode) }) {
			continue
		}
		for i, line := range lines {
			p.LargeTimes(r.rows(i*each, each), 0, times, line, k.Mode, s.Ink)
		}
		return each * len(lines)
	}
	lines := wrap(s.Text, r.W)
	for y, line := range lines {
		p.Text(r, 0, y, line, s.Ink)
	}
	return len(lines)
}

func orUnknown(s, key string) string {
	if s == "" {
		return "not written down (" + key + " in house.toml)"
	}
	return clean(s)
}
