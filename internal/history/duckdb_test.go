package history

import (
	"encoding/json"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"hawser/internal/review"
)

// month is somebody's heaviest load and best split of a month.
type month struct {
	Month string  `json:"month"`
	KG    float64 `json:"kg"`
	MS    int64   `json:"ms"`
}

// months answers from a history.
func months(h *review.History, who string) []month {
	best := map[string]month{}
	for _, movement := range h.Movements(who) {
		for _, p := range h.Points(who, movement) {
			name := p.Of.Wall.Format("2006-01")
			m, ok := best[name]
			if !ok {
				m = month{Month: name, MS: math.MaxInt64}
			}
			m.KG = max(m.KG, p.Moves.KG())
			for ms := range p.Splits.All() {
				m.MS = min(m.MS, int64(ms))
			}
			best[name] = m
		}
	}
	var all []month
	for _, m := range best {
		all = append(all, m)
	}
	slices.SortFunc(all, func(a, b month) int { return strings.Compare(a.Month, b.Month) })
	return all
}

// TestBesideDuckDB asks DuckDB (https://duckdb.org, by its node package) the same of
// the same files: its answer is made of the lines in SQL, without the engine, and has
// to be the same. It is for who has it:
//
//	npm install --prefix DIR @duckdb/node-api
//	NODE_PATH=DIR/node_modules go test ./internal/history -run BesideDuckDB -runs 15000 -v
func TestBesideDuckDB(t *testing.T) {
	t.Parallel()
	if err := exec.Command("node", "-e", "require('@duckdb/node-api')").Run(); err != nil {
		t.Skip("no DuckDB here: needs node, and NODE_PATH with the package @duckdb/node-api")
	}
	home := t.TempDir()
	gym(t, home, 0, *gymRuns)
	const who = "Maren" // she is first on her sled
	asked := func() (h *review.History, took time.Duration) {
		began := time.Now()
		h, faults, err := Read(home, nil)
		if err != nil || len(faults) > 0 {
			t.Fatal(err, faults)
		}
		return h, time.Since(began)
	}
	h, cold := asked()
	_, seen := asked()
	if err := os.Remove(filepath.Join(home, CacheName)); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command("node", filepath.Join("testdata", "duckdb.cjs"), home, who).Output()
	if err != nil {
		t.Fatal(err)
	}
	var duck struct {
		Version     string
		Seconds, MB float64
		CPUs        float64 `json:"cpu_s"`
		Rows        []month
	}
	if err := json.Unmarshal(out, &duck); err != nil {
		t.Fatal(err)
	}
	if want := months(h, who); !reflect.DeepEqual(duck.Rows, want) {
		t.Errorf("DuckDB says\n%v, hawser\n%v", duck.Rows, want)
	}
	t.Logf("%d runs: hawser %.2f s from the logs, %.2f s from its cache; DuckDB %s %.2f s (%.1f s of both cores, %.0f MB)",
		h.Runs(), cold.Seconds(), seen.Seconds(), duck.Version, duck.Seconds, duck.CPUs, duck.MB)
}
