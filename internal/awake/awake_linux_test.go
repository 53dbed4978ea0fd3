package awake_test

import (
	"path/filepath"
	"strings"
	"testing"

	"go.uber.org/goleak"

	"hawser/internal/awake"
)

// Without a desktop and a login manager, as here, the answer is one plain line and
// nothing is left behind.
func TestRefused(t *testing.T) {
	defer goleak.VerifyNone(t)
	nobody := "unix:path=" + filepath.Join(t.TempDir(), "nobody")
	t.Setenv("DBUS_SESSION_BUS_ADDRESS", nobody)
	t.Setenv("DBUS_SYSTEM_BUS_ADDRESS", nobody)
	release, err := awake.Keep()
	if err == nil || !strings.HasPrefix(err.Error(), "the screen may go dark") {
		t.Errorf("Keep = %v, want that the screen may go dark", err)
	}
	if err != nil && strings.Contains(err.Error(), "\n") {
		t.Errorf("Keep = %q, want one line", err)
	}
	release()
}
