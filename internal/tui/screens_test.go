package tui

import (
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	uv "github.com/charmbracelet/ultraviolet"
	"github.com/clipperhouse/displaywidth"

	"hawser/internal/floor"
)

var update = flag.Bool("update", false, "write the goldens anew")

// sizes are the screens that every golden is drawn at.
var sizes = [][2]int{{40, 12}, {80, 24}, {120, 40}, {200, 60}}

// golden holds a page to testdata/NAME-WxH.txt. The page goes through the cell
// buffer that the renderer uses, so what is compared is what a terminal would show.
func golden(t *testing.T, name string, p *Page) {
	t.Helper()
	buf := uv.NewScreenBuffer(p.W, p.H)
	uv.NewStyledString(p.String(plainLook.theme)).Draw(buf, buf.Bounds())
	var b strings.Builder
	for y := range p.H {
		var line strings.Builder
		for x := range p.W {
			c := buf.CellAt(x, y)
			if c == nil || c.Content == "" && c.Width == 0 {
				continue
			}
			line.WriteString(c.Content)
		}
		text := strings.TrimRight(line.String(), " ")
		if w := displaywidth.String(text); w > p.W {
			t.Errorf("line %d is %d wide, the screen %d: %q", y, w, p.W, text)
		}
		b.WriteString(text + "\n")
	}
	file := filepath.Join("testdata", name+"-"+itoa(p.W)+"x"+itoa(p.H)+".txt")
	if *update {
		if err := os.MkdirAll("testdata", 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, []byte(b.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if got := b.String(); got != string(want) {
		t.Errorf("%s has changed (go test -update writes it anew):\n%s", file, got)
	}
}

// sceneOf is the scene of a run at a time after the first GO.
func sceneOf(r *run, at time.Duration) *Scene {
	s := NewScene(r.st, at+ten, nil)
	s.Opened = time.Date(2026, 11, 25, 18, 2, 0, 0, time.UTC)
	return s
}

func TestRunScreens(t *testing.T) {
	t.Parallel()
	mid := 150*time.Second + 40*time.Second
	held := midClass(t, 6, 4)
	held.do(mid, floor.Hold{})
	for _, tt := range []struct {
		name  string
		share Share
		scene *Scene
	}{
		{"both", Both, sceneOf(midClass(t, 6, 4), mid)},
		{"wall", WallAlone, sceneOf(midClass(t, 6, 4), mid)},
		{"desk", DeskAlone, sceneOf(midClass(t, 16, 4), mid)},
		{"sixteen", Both, sceneOf(midClass(t, 16, 4), mid)},
		{"held", Both, sceneOf(held, mid+5*time.Second)},
	} {
		for _, size := range sizes {
			t.Run(tt.name, func(t *testing.T) {
				t.Parallel()
				l := Lay(size[0], size[1], Ask{Share: tt.share, Tiles: len(tt.scene.Tiles)})
				if 3*l.Digits.H < size[1] {
					t.Errorf("%v: the digits have %d of %d rows, less than a third", size, l.Digits.H, size[1])
				}
				var big Raster
				if at := big.Draw(NewPage(size[0], size[1]), l.Digits.in(1), l.Least, Quadrants, tt.scene.clock(), Body); 3*at.H < size[1] {
					t.Errorf("%v: the digits are %d of %d rows high, less than a third", size, at.H, size[1])
				}
				golden(t, tt.name, tt.scene.Draw(size[0], size[1], &l, &plainLook, &big))
			})
		}
	}
}
