package house_test

import (
	"encoding/json"
	"reflect"
	"strings"
	"testing"
	"time"

	"hawser/internal/house"
	"hawser/internal/measure"
	"hawser/internal/session"
)

func TestParse(t *testing.T) {
	t.Parallel()
	h, err := house.Parse("house.toml", []byte(`
show = "lb"
decimal = ","
handover_plate = "7 s"
margin = "20%"
late_grace = "0.5 s"
lighter_every = 0
screen_height = "0.2 m"
mouse = true
address = "North quay, the long shed"
[keys]
hold = "f1"
`))
	want := house.Default()
	want.Path, want.Show, want.Decimal, want.Mouse = "house.toml", "lb", ",", true
	want.HandoverPlate, want.LateGrace = 7*time.Second, 500*time.Millisecond
	want.Margin, want.LighterEvery, want.ScreenHeight = 20*measure.Percent, 0, measure.Metre/5
	want.Address, want.Keys = "North quay, the long shed", map[string]string{"hold": "f1"}
	if err != nil || !reflect.DeepEqual(h, want) {
		t.Errorf("Parse = %+v, %v, want %+v", h, err, want)
	}
	if got, want := h.Style(), (measure.Style{MassUnit: "lb", DistanceUnit: "m", Decimal: ","}); got != want {
		t.Errorf("Style = %+v, want %+v", got, want)
	}
	if got, want := new(house.House).Style().Mass(measure.Kilogram), "1 kg"; got != want {
		t.Errorf("without a house 1 kg is %q, want %q", got, want)
	}
}

// Every rule has a key: a House whose fields all differ from the defaults comes
// back from its file as it was, so no field was forgotten. A log keeps it too.
func TestEveryRuleIsInTheFile(t *testing.T) {
	t.Parallel()
	h := &house.House{Keys: map[string]string{"hold": "f1", "page_up": `"`}}
	words := map[string]string{
		"Show": "lb", "ShowDistance": "ft", "Decimal": ",", "Late": "stop", "Formula": "lander", "WhenItDoesNotFit": "as written", "Path": "house.toml",
	}
	v := reflect.ValueOf(h).Elem()
	for i := range v.NumField() {
		name, field := v.Type().Field(i).Name, v.Field(i)
		switch field.Interface().(type) {
		case time.Duration:
			field.SetInt(int64(time.Duration(61+i) * time.Second))
		case measure.Share:
			field.SetInt(int64(measure.Share(i+1) * measure.Percent))
		case measure.Distance:
			field.SetInt(int64(measure.Distance(i+1) * measure.Metre))
		case int:
			field.SetInt(int64(i + 1))
		case bool:
			field.SetBool(true)
		case string:
			if field.SetString(words[name]); words[name] == "" {
				field.SetString("about " + name)
			}
		}
	}
	back, err := house.Parse("house.toml", house.Write(h))
	if err != nil || !reflect.DeepEqual(back, h) {
		t.Errorf("Parse(Write(h)) = %+v, %v, want %+v", back, err, h)
	}
	line, err := json.Marshal(h)
	if err != nil {
		t.Fatal(err)
	}
	var logged house.House
	if err := json.Unmarshal(line, &logged); err != nil || !reflect.DeepEqual(&logged, h) {
		t.Errorf("through JSON %+v, %v, want %+v", logged, err, h)
	}
}

// A fresh file is the defaults, line by line with what each is for.
func TestFreshFile(t *testing.T) {
	t.Parallel()
	text := house.Write(house.Default())
	h, err := house.Parse("", text)
	if err != nil || !reflect.DeepEqual(h, house.Default()) {
		t.Errorf("a fresh file reads as %+v, %v, want the defaults", h, err)
	}
	for line := range strings.Lines(string(text)) {
		if strings.Contains(line, " = ") && !strings.Contains(line, " # ") && !strings.HasPrefix(line, "#") {
			t.Errorf("%q does not say what it is for", line)
		}
	}
	if session.Late(house.Default().Late) != session.SitOut {
		t.Errorf("the usual late policy is %q, want %q", house.Default().Late, session.SitOut)
	}
}

func FuzzParse(f *testing.F) {
	f.Add([]byte("show = \"lb\"\nmargin = \"20%\"\nlate_grace = \"0.5 s\"\nmouse = true\n[keys]\nhold = \"f1\""))
	f.Fuzz(func(t *testing.T, data []byte) {
		h, err := house.Parse("house.toml", data)
		if err != nil {
			return
		}
		if back, err := house.Parse("house.toml", house.Write(h)); err != nil || !reflect.DeepEqual(back, h) {
			t.Errorf("Parse(Write(h)) = %+v, %v, want %+v", back, err, h)
		}
	})
}
