package review

import (
	"encoding/csv"
	"strings"
	"testing"
	"time"

	"hawser/internal/coachfile"
	"hawser/internal/floor"
	"hawser/internal/measure"
	"hawser/internal/session"

	"pgregory.net/rapid"
)

func TestCSV(t *testing.T) {
	t.Parallel()
	late := round(2, 60, 62.125, floor.LateRound)
	late.Margin, late.ByHand = -secs(2.125), true
	spec := session.Part{Format: session.Every, Every: time.Minute}
	r := Report{Session: "slack-water", Parts: []Part{{Number: 1, Spec: spec, Athletes: []Athlete{
		{Name: `=cmd("x"), Bo`, Rounds: []floor.Round{round(1, 0, 40, floor.InTime), late}},
	}}}}
	for _, tt := range []struct {
		style measure.Style
		want  string
	}{
		{measure.Style{}, `"slack-water",1,"every","'=cmd(""x""), Bo",2,1,"forward drag","A",67.0,"late",60,62.125,-2.125,,,"yes",,,` + "\r\n"},
		{
			measure.Style{MassUnit: "lb", Decimal: ","},
			`"slack-water",1,"every","'=cmd(""x""), Bo",2,1,"forward drag","A","147,7","late",60,"62,125","-2,125",,,"yes",,,` + "\r\n",
		},
	} {
		s := &Sheet{Style: tt.style}
		r.CSV(s)
		if got := string(s.Bytes()); !strings.HasSuffix(got, tt.want) {
			t.Errorf("CSV() = %q, want it to end with %q", got, tt.want)
		}
		rows, err := csv.NewReader(strings.NewReader(string(s.Bytes()))).ReadAll()
		if err != nil || len(rows) != 3 || len(rows[2]) != 19 {
			t.Errorf("another reader found %d rows, %v", len(rows), err)
		}
	}
}

// TestSheet reads cells back with another reader: text comes back cleaned, but for
// the apostrophe, and no cell of text begins as a formula.
func TestSheet(t *testing.T) {
	t.Parallel()
	rapid.Check(t, sheetComesBack)
}

func FuzzSheet(f *testing.F) { f.Fuzz(rapid.MakeFuzz(sheetComesBack)) }

func sheetComesBack(t *rapid.T) {
	in := rapid.SliceOfN(rapid.StringOf(rapid.OneOf(rapid.SampledFrom([]rune("=+-@＝＠\t\",; \n\x00\x1b\u202ea1é")), rapid.Rune())), 1, 5).Draw(t, "cells")
	s := &Sheet{}
	s.Text(in...)
	s.Row()
	got, err := csv.NewReader(strings.NewReader(string(s.Bytes()))).Read()
	if err != nil || len(got) != len(in) {
		t.Fatalf("%q was read as %q, %v", s.Bytes(), got, err)
	}
	for i, cell := range got {
		if plain := coachfile.Clean(in[i]); cell != plain && cell != "'"+plain {
			t.Fatalf("%q was read as %q", in[i], cell)
		}
		if cell != "" && strings.ContainsRune(formula, []rune(cell)[0]) {
			t.Fatalf("%q begins as a formula", cell)
		}
	}
}
