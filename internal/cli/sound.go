package cli

import (
	"context"
	"errors"
	"fmt"
	"math"
	"os"
	"time"

	"github.com/charmbracelet/x/term"
	"github.com/spf13/cobra"

	"hawser/internal/cue"
	"hawser/internal/measure"
	"hawser/internal/sound"
	"hawser/internal/tui"
)

func (s *shell) soundCommand() *cobra.Command {
	var height string
	var beats bool
	cmd := &cobra.Command{
		Use:     "sound",
		Short:   "Hear every cue, and know from how far the digits can be read",
		Long:    soundPage,
		Example: "hawser sound\nhawser sound --screen-height 30cm\nhawser sound --beats",
		Args:    noArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			h, err := s.open("")
			if err != nil {
				return err
			}
			if beats {
				return s.beats(cmd.Context(), h)
			}
			tall := h.house.ScreenHeight
			if height != "" {
				if tall, err = measure.ParseDistance(height); err != nil {
					return usage(fmt.Errorf("--screen-height: %w", err))
				}
			}
			s.sight(cmd, tall)
			return s.play1(cmd, h)
		},
	}
	cmd.Flags().StringVar(&height, "screen-height", "", `how tall the lit screen is, as "0.3 m"`)
	cmd.Flags().BoolVar(&beats, "beats", false, "three beats and three flashes: set by ear how late the speaker is")
	return cmd
}

// sight says from how far the digits can be read.
func (s *shell) sight(cmd *cobra.Command, tall measure.Distance) {
	out := cmd.OutOrStdout()
	w, rows, err := term.GetSize(s.in.Fd())
	if err != nil {
		w, rows = 80, 24
	}
	digit := tui.DigitRows(w, rows, tui.Quadrants)
	share := float64(digit) / float64(rows)
	fmt.Fprintf(out, "digits on the wall: %d of %d rows\n", digit, rows)
	high, guess := share*tall.Metres(), ""
	if dots := pixelHeight(s.in); tall <= 0 && dots > 0 {
		high, guess = share*float64(dots)*dotPitch, "about "
	}
	if high > 0 {
		ease, limit := readFrom(high)
		fmt.Fprintf(out, "%s%.0f mm tall: read with ease from %.1f m (20 minutes of arc), at the limit from %.1f m (16)\n", guess, 1000*high, ease, limit)
	}
	if tall <= 0 {
		fmt.Fprintln(out, `write screen_height = "0.30 m" in house.toml, or --screen-height, to know it for this screen`)
	}
}

// dotPitch is the height of a pixel in metres on a screen of 96 to the inch: what is
// taken where the terminal tells pixels and nobody has measured the screen.
const dotPitch = 0.0254 / 96

// readFrom returns from how many metres a digit of that height is read with ease and
// at the limit: an eye sees a height h at a distance d under an angle of 2 atan(h/2d).
func readFrom(high float64) (ease, limit float64) {
	const minute = math.Pi / 180 / 60
	return high / (2 * math.Tan(20*minute/2)), high / (2 * math.Tan(16*minute/2))
}

// beats sets by ear how late the loudspeaker is, and keeps it.
func (s *shell) beats(ctx context.Context, h *home) error {
	if !term.IsTerminal(s.in.Fd()) {
		return usage(errors.New("--beats needs a terminal"))
	}
	ctx, stop := context.WithCancel(ctx)
	defer stop()
	clock := tui.NewClock(0)
	player, _ := sound.NewPlayer(ctx, clock.Now, sound.Options{Folder: h.sounds()})
	defer player.Close()
	b := &tui.Beats{Clock: clock, Cues: tui.Voice{Player: player}, Later: player.Later, Late: speakerLate()}
	if err := b.Run(look(running{}), s.in, os.Stdout); err != nil {
		return fmt.Errorf("beats: %w", err)
	}
	if !b.Kept {
		return nil
	}
	path, err := keepSpeaker(b.Late)
	if err != nil {
		return err
	}
	fmt.Fprintf(s.talk, "the speaker is taken to be %v later than its device says; kept in %s\n", b.Late, path)
	return nil
}

// play1 plays every cue once, a second and a half apart.
func (s *shell) play1(cmd *cobra.Command, h *home) error {
	began := time.Now()
	player, warnings := sound.NewPlayer(cmd.Context(), func() time.Duration { return time.Since(began) }, sound.Options{Folder: h.sounds(), Latency: speakerLate()})
	defer player.Close()
	out := cmd.OutOrStdout()
	for _, w := range warnings {
		fmt.Fprintln(s.talk, shown(w.Error()))
	}
	fmt.Fprintf(out, "sound: %s\n", player.Status().State)
	if player.Status().State != sound.On {
		fmt.Fprintln(out, "a class runs all the same: the wall and the terminal's bell carry the starts")
		return nil
	}
	for _, name := range cue.Names() {
		fmt.Fprintf(out, "  %s\n", name)
		player.PlayNow(name)
		select {
		case <-cmd.Context().Done():
			return &exit{Interrupted, nil}
		case <-time.After(1500 * time.Millisecond):
		}
	}
	fmt.Fprintln(out, "heard late, as over a wireless speaker? hawser sound --beats sets that by ear")
	return nil
}
