package pages

import (
	"bufio"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// TestReserve: the system has been asked for large pages for so much memory as was said,
// and that memory is still the program's.
func TestReserve(t *testing.T) {
	t.Parallel()
	if _, err := os.Stat("/sys/kernel/mm/transparent_hugepage/enabled"); err != nil {
		t.Skip("this system knows no large pages")
	}
	const size = 16 << 20
	Reserve(size)
	if n := advised(t); n < size {
		t.Errorf("large pages are asked for %d bytes, want %d or more", n, size)
	}
}

// advised is how much of this process's memory bears the flag hg, see proc_pid_smaps(5).
func advised(t *testing.T) int {
	t.Helper()
	f, err := os.Open("/proc/self/smaps")
	if err != nil {
		t.Skip("this system does not say what memory is for")
	}
	defer f.Close()
	sum, area := 0, 0
	lines := bufio.NewScanner(f)
	for lines.Scan() {
		switch words := strings.Fields(lines.Text()); words[0] {
		case "Size:":
			if area, err = strconv.Atoi(words[1]); err != nil {
				t.Fatal(err)
			}
		case "VmFlags:":
			if slices.Contains(words, "hg") {
				sum += area << 10
			}
		}
	}
	if err := lines.Err(); err != nil {
		t.Fatal(err)
	}
	return sum
}
