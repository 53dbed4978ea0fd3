package review

import (
	"encoding/xml"
	"errors"
	"flag"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"hawser/internal/floor"
	"hawser/internal/measure"
	"hawser/internal/session"
)

var update = flag.Bool("update", false, "write the golden files anew")

// golden compares got with testdata/name, or writes it with -update.
func golden(t *testing.T, name, got string) {
	t.Helper()
	path := filepath.Join("testdata", name)
	if *update {
		if err := os.MkdirAll("testdata", 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("%s differs:\n%s", name, got)
	}
}

// evening is a class of three with one late, one forgotten and one typed round.
func evening() Report {
	spec := session.Part{Format: session.Every, Every: 75 * time.Second, Rounds: 4}
	starts := []time.Duration{0, secs(75), secs(150), secs(225)}
	build := func(works [4]float64) []floor.Round {
		var all []floor.Round
		for k, w := range works {
			r := round(k+1, float64(k)*75, w, floor.InTime)
			switch {
			case w == 0:
				r.State = floor.NoPress
			case w > 75:
				r.State = floor.LateRound
			}
			all = append(all, r)
		}
		return all
	}
	p := Part{Number: 1, Spec: spec, Starts: starts}
	for i, who := range []struct {
		name  string
		works [4]float64
	}{{"Maren", [4]float64{40, 44, 47.5, 52.3}}, {"Eskil <b>", [4]float64{36, 0, 36.2, 35}}, {"Tove", [4]float64{50, 77.4, 0, 51}}} {
		a := new(room).read(&spec, build(who.works), []time.Duration{0}, secs(300), plain)
		a.Name, a.Person = who.name, i
		p.Athletes = append(p.Athletes, a)
	}
	p.Athletes[2].Rounds[2].State = floor.SatOut
	p.Athletes[2].Counts = count(p.Athletes[2].Rounds)
	p.Athletes[1].Rounds[2].ByHand = true
	return Report{Session: "slack-water", Title: "Slack water", Aim: session.Conditioning, Ends: secs(300), Parts: []Part{p}}
}

func TestSentences(t *testing.T) {
	t.Parallel()
	r := evening()
	lines := []string{r.Headline(measure.Style{})}
	for i := range r.Parts[0].Athletes {
		lines = append(lines, r.Parts[0].Sentence(&r.Parts[0].Athletes[i], measure.Style{}))
	}
	golden(t, "sentences.txt", strings.Join(lines, "\n")+"\n")
}

// TestPage holds that the page is well formed, names nothing outside itself and
// runs nothing.
func TestPage(t *testing.T) {
	t.Parallel()
	r := evening()
	page := r.Page("25 November 2026", measure.Style{})
	for _, banned := range []string{"<script", "http://", "https://", "url(", "@import", "<b>", " src="} {
		if strings.Contains(page, banned) {
			t.Errorf("the page contains %q", banned)
		}
	}
	body := page[strings.Index(page, "<body>"):strings.Index(page, "</html>")]
	d := xml.NewDecoder(strings.NewReader(body))
	for {
		_, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			t.Fatalf("the page is not well formed: %v", err)
		}
	}
	golden(t, "page.html", page)
}
