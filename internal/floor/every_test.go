package floor

import (
	"testing"
	"time"

	"hawser/internal/session"
)

func everyMinute(rounds int) session.Part {
	return session.Part{Format: session.Every, Every: time.Minute, Rounds: rounds, Late: session.SitOut, CountIn: 10 * time.Second}
}

func TestEveryClass(t *testing.T) {
	t.Parallel()
	r := begin(t, one(everyMinute(12), "Ada Bo", "A B"))
	r.play(`
		0:38.4 b
		0:41.7 a
		1:36.2 b
		2:05.8 a
		2:39.2 b
		3:37.3 b
		3:37.8 a
		3:38.1 b pressed twice
		4:40.7 a
		4:42.4 a pressed twice
		7:02.8 a
		8:41.4 a
		9:15 a
		9:18 hold
		9:32 again
		10:16.9 a
		11:16.7 a
		12:17.8 a`)
	r.want("Ada", 15*time.Minute, `
		1 0 41.7 in time margin 18.3
		2 60 65.8 late margin -5.8 unlikely
		3 120 - sat out
		4 180 37.8 in time margin 22.2
		5 240 40.7 in time margin 19.3
		6 300 - no press
		7 360 62.8 late margin -2.8
		8 420 - sat out
		9 480 41.4 in time margin 18.6
		10 577 39.9 in time margin 20.1
		11 637 39.7 in time margin 20.3
		12 697 40.8 in time margin 19.2`)
}
