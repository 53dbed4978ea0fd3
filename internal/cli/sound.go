package cli

import (
	"fmt"
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
	cmd := &cobra.Command{
		Use:     "sound",
		Short:   "Hear every cue, and know from how far the digits can be read",
		Long:    soundPage,
		Example: "hawser sound\nhawser sound --screen-height 30cm",
		Args:    noArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			h, err := s.open("")
			if err != nil {
				return err
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
	return cmd
}

// sight says from how far the digits can be read. An angle a of the eye stands for
// a height of tan a times the distance; 20 minutes of arc are 0.005818.
func (s *shell) sight(cmd *cobra.Command, tall measure.Distance) {
	out := cmd.OutOrStdout()
	w, rows, err := term.GetSize(s.in.Fd())
	if err != nil {
		w, rows = 80, 24
	}
	digit := tui.DigitRows(w, rows, tui.Quadrants)
	share := float64(digit) / float64(rows)
	fmt.Fprintf(out, "digits on the wall: %d of %d rows\n", digit, rows)
	if tall <= 0 {
		fmt.Fprintln(out, `write screen_height = "0.30 m" in house.toml, or --screen-height, to know from how far they can be read`)
		return
	}
	high := share * tall.Metres()
	fmt.Fprintf(out, "%.0f mm tall: read with ease from %.1f m (20 minutes of arc), at the limit from %.1f m (16)\n",
		1000*high, high/0.0058178, high/0.0046542)
}

// play1 plays every cue once, a second and a half apart.
func (s *shell) play1(cmd *cobra.Command, h *home) error {
	began := time.Now()
	player, warnings := sound.NewPlayer(cmd.Context(), func() time.Duration { return time.Since(began) }, sound.Options{Folder: h.sounds()})
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
	return nil
}
