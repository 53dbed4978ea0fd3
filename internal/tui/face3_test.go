package tui

import (
	"strings"
	"testing"
)

func TestFace3IsWhole(t *testing.T) {
	t.Parallel()
	seen := map[string]rune{}
	for r, rows := range face3 {
		lines := strings.Split(rows, "/")
		if len(lines) != 5 {
			t.Errorf("%c has %d rows, want 5", r, len(lines))
		}
		for _, l := range lines {
			if len(l) != len(lines[0]) {
				t.Errorf("%c has rows of %d and %d pixels", r, len(lines[0]), len(l))
			}
		}
		if r == 'O' || r == '○' {
			continue
		}
		if other, ok := seen[rows]; ok {
			t.Errorf("%c and %c look the same", r, other)
		}
		seen[rows] = r
	}
}

func TestSpell(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		in, want string
		ok       bool
	}{
		{"Maren", "MAREN", true},
		{"Åse Bjørk", "ASE BJORK", true},
		{"Ærlend", "AERLEND", true},
		{"67.5 kg", "67.5 KG", true},
		{"太郎", "", false},
	} {
		got, ok := spell(tt.in)
		if got != tt.want || ok != tt.ok {
			t.Errorf("spell(%q) = %q, %v, want %q, %v", tt.in, got, ok, tt.want, tt.ok)
		}
	}
}
