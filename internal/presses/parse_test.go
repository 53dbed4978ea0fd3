package presses_test

import (
	"reflect"
	"strings"
	"testing"
	"time"

	"hawser/internal/floor"
	"hawser/internal/measure"
	"hawser/internal/presses"
)

func crew() presses.Cast {
	return presses.Cast{People: []string{"Maren", "Jo Ann", "Eskil"}, Sleds: []string{"A", "long B"}}
}

func TestParse(t *testing.T) {
	t.Parallel()
	tests := []struct {
		in   string
		at   time.Duration
		want any // a rune or a floor.Command
	}{
		{"0:44.7 m", 44700 * time.Millisecond, 'm'},
		{"0:44,7 M # a leg", 44700 * time.Millisecond, 'M'},
		{"12:00\t2", 12 * time.Minute, '2'},
		{"1:02:03 å", time.Hour + 123*time.Second, 'å'},
		{"2:05 hold", 125 * time.Second, floor.Hold{}},
		{"2:05 resume", 125 * time.Second, floor.Resume{}},
		{"2:05 again", 125 * time.Second, floor.Again{}},
		{"2:05 undo", 125 * time.Second, floor.Undo{}},
		{"2:05 skip", 125 * time.Second, floor.Skip{}},
		{"2:05 end", 125 * time.Second, floor.End{}},
		{"0:01 arrive Maren", time.Second, floor.Arrive{Who: "Maren"}},
		{`0:01 arrive "Jo Ann" warm-up 3:00`, time.Second, floor.Arrive{Who: "Jo Ann", WarmUp: 3 * time.Minute}},
		{"0:01 leave Eskil", time.Second, floor.Leave{Who: "Eskil"}},
		{"0:01 drop Eskil 10%", time.Second, floor.Drop{Who: "Eskil", Share: 10 * measure.Percent}},
		{"0:01 by-hand Maren 3 0:39", time.Second, floor.ByHand{Who: "Maren", Round: 3, Work: 39 * time.Second}},
		{"0:01 no-time Maren 3", time.Second, floor.NoTime{Who: "Maren", Round: 3}},
		{"0:01 leg Maren", time.Second, floor.LegDone{Who: "Maren"}},
		{"0:01 stop Maren", time.Second, floor.StopNow{Who: "Maren"}},
		{"0:01 go Maren", time.Second, floor.GoOn{Who: "Maren"}},
		{"0:01 done Maren", time.Second, floor.DoneNow{Who: "Maren"}},
		{"0:01 off Maren", time.Second, floor.OffSled{Who: "Maren"}},
		{"0:01 miss Maren", time.Second, floor.Miss{Who: "Maren"}},
		{"0:01 miss Maren at 22 m", time.Second, floor.Miss{Who: "Maren", At: 22 * measure.Metre}},
		{"0:01 partial Maren 20 m", time.Second, floor.Amount{Who: "Maren", Metres: 20 * measure.Metre}},
		{"0:01 partial Maren 50 ft", time.Second, floor.Amount{Who: "Maren", Metres: 50 * measure.Foot}},
		{"0:01 partial Maren 14 reps", time.Second, floor.Amount{Who: "Maren", Reps: 14}},
		{"0:01 effort Maren 7", time.Second, floor.Effort{Who: "Maren", Effort: 7}},
		{"0:01 effort Maren 9.5", time.Second, floor.Effort{Who: "Maren", Effort: 9.5}},
		{"0:01 pain Maren 3 knee", time.Second, floor.Pain{Who: "Maren", Pain: 3, Site: "knee"}},
		{"0:01 pain Maren 3 lower back", time.Second, floor.Pain{Who: "Maren", Pain: 3, Site: "lower back"}},
		{"0:01 load Maren +5 kg", time.Second, floor.Change{Who: "Maren", By: 5 * measure.Kilogram}},
		{"0:01 load Maren -2.5 kg", time.Second, floor.Change{Who: "Maren", By: -2500 * measure.Gram}},
		{"0:01 strike Maren 2", time.Second, floor.Strike{Who: "Maren", Round: 2}},
		{"0:01 strike Maren 2 wrong sled", time.Second, floor.Strike{Who: "Maren", Round: 2, Reason: "wrong sled"}},
		{`0:01 give Maren 2 "Jo Ann"`, time.Second, floor.Give{Who: "Maren", Round: 2, To: "Jo Ann"}},
		{`0:01 swap Maren "sled row"`, time.Second, floor.Swap{Who: "Maren", Movement: "sled row"}},
		{"0:01 swap Maren sled row", time.Second, floor.Swap{Who: "Maren", Movement: "sled row"}},
		{"0:01 out A", time.Second, floor.Out{On: "A"}},
		{`0:01 back "long B"`, time.Second, floor.Back{On: "long B"}},
		{"0:01 guest Tilda", time.Second, floor.Guest{Who: "Tilda"}},
		{"0:01 longer 1:00", time.Second, floor.Longer{By: time.Minute}},
	}
	for _, tt := range tests {
		lines, err := presses.Parse("class.txt", []byte("# a class\n\n"+tt.in+"\r\n"), crew())
		if err != nil || len(lines) != 1 {
			t.Errorf("Parse(%q) = %v, %v, want one line", tt.in, lines, err)
			continue
		}
		want := presses.Line{Number: 3, At: tt.at}
		if key, ok := tt.want.(rune); ok {
			want.Key = key
		} else {
			want.Command = tt.want.(floor.Command)
		}
		if !reflect.DeepEqual(lines[0], want) {
			t.Errorf("Parse(%q) = %+v, want %+v", tt.in, lines[0], want)
		}
	}
}

func TestParseFaults(t *testing.T) {
	t.Parallel()
	tests := []struct{ in, want string }{
		{"0:10", "class.txt:1:5: a key or a verb is missing"},
		{"m", "class.txt:1:1: the time"},
		{"0:10 ?", `class.txt:1:6: "?" is no key; write a letter or a digit`},
		{"0:10 halt", `class.txt:1:6: "halt" is neither a key nor a verb; the verbs are again,`},
		{"0:10 hold it", `class.txt:1:11: "it" is too much here`},
		{"0:10 m m", `class.txt:1:8: "m" is too much here`},
		{"0:20 m\n0:10 m", "class.txt:2:1: the time goes back"},
		{"0:10 leave Noone", `class.txt:1:12: nobody here is called "Noone"; there are Maren, Jo Ann, Eskil`},
		{"0:10 out C", `class.txt:1:10: no sled is called "C"; there are A, long B`},
		{"0:10 guest Maren", `class.txt:1:12: "Maren" is in the class already`},
		{`0:10 arrive "Jo Ann`, `class.txt:1:13: a name begins with "`},
		{"0:10 arrive Maren 3:00", `class.txt:1:19: "3:00" does not belong here; write "warm-up"`},
		{"0:10 effort Maren 11", `class.txt:1:19: the effort is "11"; write a number from 0 to 10, such as 7 or 9.5`},
		{"0:10 by-hand Maren 0 0:39", `class.txt:1:20: the round is "0"; write a whole number from 1`},
		{"0:10 by-hand Maren 3", "class.txt:1:21: the split is missing"},
		{"0:10 load Maren 5 kg", `class.txt:1:17: "5 kg" has no sign; write +5 kg or -5 kg`},
		{"0:10 drop Maren 0%", "class.txt:1:17: 0% cannot be taken off"},
		{"0:10 miss Maren at wall", "class.txt:1:20: "},
		{"0:10 swap Maren rowing", `class.txt:1:17: no movement is called "rowing"`},
		{"0:10 m\x1b[2J", "class.txt:1:7: the line holds the control character U+001B"},
		{"0:10 \xff", "class.txt:1:1: the line is not UTF-8"},
		{"-0:10 m", "class.txt:1:1: the time"},
	}
	for _, tt := range tests {
		_, err := presses.Parse("class.txt", []byte(tt.in), crew())
		if err == nil || !strings.HasPrefix(err.Error(), tt.want) {
			t.Errorf("Parse(%q) = %v, want %s…", tt.in, err, tt.want)
		}
	}
}

// TestParseNamesEveryFault: one error a fault, all of them at once.
func TestParseNamesEveryFault(t *testing.T) {
	t.Parallel()
	_, err := presses.Parse("class.txt", []byte("0:10 x y\n0:20 m\nbad\n0:15 m\n"), crew())
	var got []string
	for line := range strings.SplitSeq(err.Error(), "\n") {
		place, _, _ := strings.Cut(line, ": ")
		got = append(got, place)
	}
	want := []string{"class.txt:1:8", "class.txt:3:1", "class.txt:4:1"}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("faults at %v, want %v", got, want)
	}
}

// TestParseTakesGuests: a guest may be named after arriving, and not before.
func TestParseTakesGuests(t *testing.T) {
	t.Parallel()
	if _, err := presses.Parse("", []byte("0:10 guest Tilda\n0:20 leave Tilda"), crew()); err != nil {
		t.Errorf("a guest named after arriving: %v, want no error", err)
	}
	if _, err := presses.Parse("", []byte("0:10 leave Tilda\n0:20 guest Tilda"), crew()); err == nil {
		t.Error("a guest named before arriving: no error, want one")
	}
}

func FuzzParse(f *testing.F) {
	f.Add("0:44.7 m\n1:00 arrive \"Jo Ann\" warm-up 3:00 # late\n")
	f.Add("0:01 pain Maren 3 knee\n0:02 swap Eskil sled row")
	f.Fuzz(func(t *testing.T, text string) {
		lines, err := presses.Parse("f", []byte(text), crew())
		var last time.Duration
		for _, line := range lines {
			if line.At < last {
				t.Errorf("line %d is at %v, before %v", line.Number, line.At, last)
			}
			if (line.Key == 0) == (line.Command == nil) {
				t.Errorf("line %d has key %q and command %v, want one of them", line.Number, line.Key, line.Command)
			}
			last = line.At
		}
		if err != nil && !strings.HasPrefix(err.Error(), "f:") {
			t.Errorf("error %q names no place", err)
		}
	})
}
