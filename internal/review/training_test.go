package review

import (
	"math"
	"testing"
	"time"

	"gonum.org/v1/gonum/stat"
	"pgregory.net/rapid"
)

// TestSessionLoad holds the six rows of Foster and others (2001), J Strength Cond
// Res 15(1):109-115, Table 5, whose printed load is effort × minutes, and the
// three where print and product differ (printed 940, 390, 390), as products.
func TestSessionLoad(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		effort, minutes int
		want            float64
	}{
		{2, 25, 50},
		{7, 120, 840},
		{7, 40, 280},
		{3, 60, 180},
		{2, 25, 50},
		{7, 40, 280},
		{5, 180, 900},
		{8, 75, 600},
		{8, 75, 600},
	} {
		if got := SessionLoad(float64(tt.effort), time.Duration(tt.minutes)*time.Minute); got != tt.want {
			t.Errorf("SessionLoad(%d, %d min) = %v, want %v", tt.effort, tt.minutes, got, tt.want)
		}
	}
}

func TestTrainingOf(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		name                       string
		daily                      []float64
		load, monotony, strain, to float64 // monotony 0: refused
	}{
		// Foster 2001, Table 5: printed sum 3400 and monotony 1.26 over its nine rows.
		{"nine rows as printed", []float64{940, 50, 840, 280, 180, 390, 50, 390, 280}, 3400, 1.26, 4284, 0.005},
		// The same by days, one skate moved to Wednesday: the printed 1.26 again.
		{"seven days, other grouping", []float64{940, 50, 1120, 570, 50, 390, 280}, 3400, 1.26, 4284, 0.005},
		// Foster 1998's definition, worked out apart.
		{"printed loads by day", []float64{940, 50, 1120, 180, 390, 50, 670}, 3400, 1.2116, 4119.4389, 1e-5},
		{"effort × minutes by day", []float64{900, 50, 1120, 180, 600, 50, 880}, 3780, 1.30695, 4940.2693, 1e-5},
		{"rest days", []float64{50, 0, 100, 50, 0, 150, 0}, 350, 0.935414, 327.395021, 1e-6},
		{"rest days matter", []float64{400, 0, 400, 0, 400, 0, 0}, 1200, 0.866025, 1039.230485, 1e-6},
		{"all alike", []float64{300, 300, 300, 300, 300, 300, 300}, 2100, 0, 0, 0},
		{"without rest days", []float64{400, 400, 400}, 1200, 0, 0, 0},
		{"nothing", nil, 0, 0, 0, 0},
	} {
		got := TrainingOf(tt.daily)
		if got.Load != tt.load {
			t.Errorf("%s: Load = %v, want %v", tt.name, got.Load, tt.load)
		}
		if tt.monotony == 0 {
			if got.Monotony != nil || got.Strain != nil {
				t.Errorf("%s: monotony of days that are all alike was not refused", tt.name)
			}
			continue
		}
		if !near(got.Monotony, tt.monotony, tt.to) || !near(got.Strain, tt.strain, tt.to*tt.load) {
			t.Errorf("%s: got %v, %v, want %v, %v", tt.name, *got.Monotony, *got.Strain, tt.monotony, tt.strain)
		}
	}
	// BMJ Military Health 2022;168(4):314-319, Table 1: 790 ÷ 897 is printed as 0.88.
	if got := TrainingOf([]float64{790 - 897, 790 + 897}).Monotony; !near(got, 0.88, 0.005) {
		t.Errorf("mean 790, SD 897: monotony = %v, want 0.88", got)
	}
}

// TestNorris is the certified fit of NIST StRD, Norris (calibration of ozone monitors).
func TestNorris(t *testing.T) {
	t.Parallel()
	x := []float64{0.2, 337.4, 118.2, 884.6, 10.1, 226.5, 666.3, 996.3, 448.6, 777.0, 558.2, 0.4, 0.6, 775.5, 666.9, 338.0, 447.5, 11.6, 556.0, 228.1, 995.8, 887.6, 120.2, 0.3, 0.3, 556.8, 339.1, 887.2, 999.0, 779.0, 11.1, 118.3, 229.2, 669.1, 448.9, 0.5}
	y := []float64{0.1, 338.8, 118.1, 888.0, 9.2, 228.1, 668.5, 998.5, 449.1, 778.9, 559.2, 0.3, 0.1, 778.1, 668.8, 339.3, 448.9, 10.8, 557.7, 228.3, 998.0, 888.8, 119.6, 0.3, 0.6, 557.6, 339.3, 888.0, 998.5, 778.9, 10.2, 117.6, 228.9, 668.4, 449.2, 0.2}
	a, b := slope(x, y)
	if math.Abs(a/-0.262323073774029-1) > 1e-9 || math.Abs(b/1.00211681802045-1) > 1e-9 {
		t.Errorf("slope(Norris) = %.15g, %.15g, want -0.262323073774029, 1.00211681802045", a, b)
	}
	// Least squares by hand: Sxy = 11, Sxx = 10.
	a, b = slope([]float64{1, 2, 3, 4, 5}, []float64{20, 21, 21.5, 23, 24.5})
	if math.Abs(a-18.7) > 1e-6 || math.Abs(b-1.1) > 1e-6 {
		t.Errorf("slope = %v, %v, want 18.7, 1.1", a, b)
	}
}

func TestSpread(t *testing.T) {
	t.Parallel()
	// NIST StRD NumAcc1 and NumAcc4 (from memory): a one-pass sum of squares fails both.
	if got := sampleSD([]float64{10000001, 10000003, 10000002}); math.Abs(got-1) > 1e-9 {
		t.Errorf("sampleSD(NumAcc1) = %v, want 1", got)
	}
	xs := []float64{10000000.2}
	for range 500 {
		xs = append(xs, 10000000.1, 10000000.3)
	}
	if got := sampleSD(xs); math.Abs(got-0.1) > 1e-8 {
		t.Errorf("sampleSD(NumAcc4) = %v, want 0.1", got)
	}
	if got := spread([]float64{20, 21, 21.5, 23, 24.5}); !near(got, 8.035304, 1e-6) {
		t.Errorf("spread = %v, want 8.035304 (sample SD)", *got)
	}
	classic := []float64{2, 4, 4, 4, 5, 5, 7, 9}
	if p, s := populationSD(classic), sampleSD(classic); p != 2 || math.Abs(s-2.138089935) > 1e-9 {
		t.Errorf("SDs = %v, %v, want 2, 2.138089935", p, s)
	}
}

// TestQuantile is type 7 of Hyndman and Fan (1996), Am Stat 50(4):361-365.
func TestQuantile(t *testing.T) {
	t.Parallel()
	xs := []float64{40, 15, 50, 20, 35}
	for p, want := range map[float64]float64{0.05: 16, 0.25: 20, 0.4: 29, 0.5: 35, 0.75: 40, 0.9: 46, 0: 15, 1: 50} {
		if got := quantile(xs, p); math.Abs(got-want) > 1e-9 {
			t.Errorf("quantile(%v) = %v, want %v", p, got, want)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		xs := rapid.SliceOfN(rapid.Float64Range(0, 1000), 1, 30).Draw(t, "xs")
		p := rapid.Float64Range(0, 1).Draw(t, "p")
		q := quantile(xs, p)
		if q < quantile(xs, 0) || q > quantile(xs, 1) || q > quantile(xs, min(1, p+0.1))+1e-9 {
			t.Fatalf("quantile(%v, %v) = %v is out of order", xs, p, q)
		}
		if len(xs)%2 == 1 { // a second opinion where all definitions agree: the middle value
			sorted := append([]float64(nil), xs...)
			stat.SortWeighted(sorted, nil)
			if m := stat.Quantile(0.5, stat.Empirical, sorted, nil); quantile(xs, 0.5) != m {
				t.Fatalf("median %v, want %v", quantile(xs, 0.5), m)
			}
		}
	})
}
