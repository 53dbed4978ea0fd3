package cli

import (
	"fmt"
	"os"
	"path/filepath"
	"time"

	"github.com/adrg/xdg"
	"github.com/pelletier/go-toml/v2"
)

// speaker is what an ear found of this machine's loudspeaker: it belongs to the
// machine and not to the home, which may be carried to another one.
type speaker struct {
	// Late is how much later it is heard than the device says, "120ms".
	Late string `toml:"late"`
}

func speakerFile() string { return filepath.Join(xdg.StateHome, "hawser", "speaker.toml") }

// speakerLate returns how late the speaker is, 0 where nobody has listened yet.
func speakerLate() time.Duration {
	data, err := os.ReadFile(speakerFile())
	if err != nil {
		return 0
	}
	var s speaker
	if err := toml.Unmarshal(data, &s); err != nil {
		return 0
	}
	late, err := time.ParseDuration(s.Late)
	if err != nil || late < -time.Second || late > 2*time.Second {
		return 0
	}
	return late
}

// keepSpeaker keeps how late the speaker is and returns where.
func keepSpeaker(late time.Duration) (string, error) {
	data, err := toml.Marshal(speaker{late.String()})
	if err != nil {
		return "", fmt.Errorf("keep the speaker's delay: %w", err)
	}
	path := speakerFile()
	if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		return "", fmt.Errorf("keep the speaker's delay: %w", err)
	}
	if err := os.WriteFile(path, data, 0o600); err != nil {
		return "", fmt.Errorf("keep the speaker's delay: %w", err)
	}
	return path, nil
}
