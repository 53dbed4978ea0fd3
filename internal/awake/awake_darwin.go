package awake

import (
	"fmt"
	"os"
	"os/exec"
	"strconv"
)

// keep starts the system's own program for this, which ends with ours at the latest.
func keep() (func(), error) {
	cmd := exec.Command("caffeinate", "-d", "-i", "-w", strconv.Itoa(os.Getpid()))
	if err := cmd.Start(); err != nil {
		return nil, fmt.Errorf("start caffeinate: %w", err)
	}
	return func() {
		_ = cmd.Process.Kill()
		_ = cmd.Wait()
	}, nil
}
