package logbook

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"syscall"
	"testing"

	"hawser/internal/floor"
)

// The tests here break a real kernel's file systems. They need root, and are run by
// .ci/faults alone, which sets HAWSER_REAL. A test that cannot run says why.

// needs skips a test where a program is not there, or nobody asked for it.
func needs(t *testing.T, programs ...string) {
	t.Helper()
	if os.Getenv("HAWSER_REAL") == "" {
		t.Skip("run by .ci/faults")
	}
	if os.Geteuid() != 0 {
		t.Skip("needs root, to mount")
	}
	for _, p := range programs {
		if _, err := exec.LookPath(p); err != nil {
			t.Skipf("needs %s", p)
		}
	}
}

// do runs a program, and says what it said where it failed.
func do(name string, args ...string) error {
	if out, err := exec.Command(name, args...).CombinedOutput(); err != nil {
		return fmt.Errorf("%s %s: %w: %s", name, strings.Join(args, " "), err, bytes.TrimSpace(out))
	}
	return nil
}

// mounted mounts something on a new folder until the test is over.
func mounted(t *testing.T, args ...string) string {
	t.Helper()
	folder := t.TempDir()
	if err := do("mount", append(args, folder)...); err != nil {
		t.Skip(err)
	}
	t.Cleanup(func() { _ = do("umount", "-l", folder) })
	return folder
}

// TestRealPowerCut takes a copy of a live ext4 image while a program appends, which
// is what a power cut leaves, mounts it and looks.
func TestRealPowerCut(t *testing.T) {
	needs(t, "mount", "umount", "mkfs.ext4", "cp", "cmp")
	trials, err := realPowerCuts(t, count(10, 3000))
	if err != nil {
		t.Error(err)
	}
	t.Logf("%d images of a live ext4", trials)
}

// TestRealPowerCutControl: without the syncs there must be a loss.
func TestRealPowerCutControl(t *testing.T) {
	needs(t, "mount", "umount", "mkfs.ext4", "cp", "cmp")
	_, err := realPowerCuts(t, 10, helperDisk+"=lazy")
	if err == nil {
		t.Error("without a sync, 10 power cuts lost nothing: the suite cannot see")
	}
	t.Logf("without a sync: %v", err)
}

func realPowerCuts(t *testing.T, trials int, env ...string) (int, error) {
	t.Helper()
	work := t.TempDir()
	image, clone := filepath.Join(work, "image"), filepath.Join(work, "clone")
	if err := errors.Join(os.WriteFile(image, nil, 0o600), os.Truncate(image, 16<<20), do("mkfs.ext4", "-q", image)); err != nil {
		return 0, err
	}
	live, after := mounted(t, "-o", "loop", image), filepath.Join(work, "after")
	if err := os.Mkdir(after, 0o700); err != nil {
		return 0, err
	}
	for i := range trials {
		if len(env) == 0 && spent(t) {
			return i, nil
		}
		home := fmt.Sprint("home", i)
		kept, err := cutLive(t, filepath.Join(live, home), image, clone, env...)
		if err == nil {
			err = do("mount", "-o", "loop", clone, after)
		}
		if err != nil {
			return i, err
		}
		_, err = checkPresses(filepath.Join(after, home), kept)
		if err := errors.Join(do("umount", after), os.RemoveAll(filepath.Join(live, home))); err != nil {
			return 0, err
		}
		if err != nil {
			return i, fmt.Errorf("power cut %d: %w", i, err)
		}
	}
	return trials, nil
}

// cutLive stops a program that appends, copies the image as it is, and returns what
// the program had said by then. Nothing that is only in the kernel's memory gets into the copy.
func cutLive(t *testing.T, home, image, clone string, env ...string) (int, error) {
	t.Helper()
	r, w, err := os.Pipe()
	if err != nil {
		return 0, err
	}
	defer r.Close()
	cmd := exec.Command(os.Args[0], "-test.run=^$")
	cmd.Env = append(append(os.Environ(), helperHome+"="+home), env...)
	cmd.Stdout, cmd.Stderr = w, os.Stderr
	if err := errors.Join(cmd.Start(), w.Close()); err != nil {
		return 0, err
	}
	defer func() { _ = cmd.Process.Kill(); _ = cmd.Wait() }()
	first := make([]byte, 1+rand.IntN(150))
	if _, err := io.ReadFull(r, first); err != nil {
		return 0, err
	}
	if err := cmd.Process.Signal(syscall.SIGSTOP); err != nil {
		return 0, err
	}
	if err := copyStill(image, clone); err != nil {
		return 0, err
	}
	_ = cmd.Process.Kill() // it says no more than it had when it was stopped
	said, err := io.ReadAll(r)
	lines := bytes.Split(append(first, said...), []byte("\n"))
	if err != nil || len(lines) < 2 {
		return 0, err
	}
	return strconv.Atoi(string(lines[len(lines)-2]))
}

// copyStill copies the image as it is at one instant: the kernel may still be writing
// what the program asked for before, and then it is copied again.
func copyStill(image, clone string) error {
	for range 100 {
		if err := do("cp", "--sparse=always", image, clone); err != nil {
			return err
		}
		if do("cmp", "-s", image, clone) == nil {
			return nil
		}
	}
	return errors.New("the image never stood still")
}

// TestRealDiskFull fills a small file system, and makes room again.
func TestRealDiskFull(t *testing.T) {
	needs(t, "mount", "umount")
	step, trials := count(8<<10, 1<<10), 0
	for ballast := 0; ballast <= 48<<10; ballast += step {
		if err := fillReal(t, ballast, func(f files) files { return f }); err != nil {
			t.Fatalf("full with %d bytes of ballast: %v", ballast, err)
		}
		trials++
	}
	t.Logf("%d sizes of a full tmpfs", trials)
}

// TestRealDiskFullControl: a log that takes what did not go in for written is found out.
func TestRealDiskFullControl(t *testing.T) {
	needs(t, "mount", "umount")
	err := fillReal(t, 48<<10, brokenDisks["greedy"])
	if err == nil {
		t.Error("a log that writes over a full disk is said to be right: the suite cannot see")
	}
	t.Logf("a log that does not see that the disk is full: %v", err)
}

func fillReal(t *testing.T, ballast int, disk func(files) files) error {
	t.Helper()
	folder := mounted(t, "-t", "tmpfs", "-o", "size=64k,mode=0700", "tmpfs")
	weight := filepath.Join(folder, "ballast")
	if err := os.WriteFile(weight, make([]byte, ballast), 0o600); err != nil {
		return err
	}
	home := must[*Home](t)(Open(folder))
	home.files = disk(home.files)
	w, err := home.Create(floor.Stamped{N: 1, E: openedBy(run, opening())})
	n := 1
	for ; err == nil && n < 1000; n++ { // 64 KiB hold fewer
		err = w.Append(press(n + 1))
	}
	if s := w.State(); !errors.Is(err, ErrWaiting) || !errors.Is(err, syscall.ENOSPC) || s.Waiting != 1 || s.Kept != n-1 {
		return errors.Join(fmt.Errorf("%d events, %+v", n, s), err)
	}
	if _, err := checkPresses(folder, n-1); err != nil {
		return err
	}
	if err := errors.Join(os.Remove(weight), do("mount", "-o", "remount,size=128k", folder), w.Append(press(n+1)), w.Close(), home.Close()); err != nil {
		return err
	}
	there, err := checkPresses(folder, n+1)
	if err == nil && (there != n+1 || w.State().Renewed > 0) {
		err = fmt.Errorf("%d there, want %d; %+v", there, n+1, w.State())
	}
	return err
}

// TestRealFailures has the kernel kill the program at its Nth write or sync, or fail
// that call once or for ever, and then looks at what is there. No file is synced
// again after it failed.
func TestRealFailures(t *testing.T) {
	needs(t, "strace")
	trials, hits := 0, 0
	for _, fault := range []string{
		"fsync:signal=SIGKILL:when=%d", "write:signal=SIGKILL:when=%d", "fsync:error=EIO:when=%d", "fsync:error=EIO:when=%d+",
		"write:error=EIO:when=%d", "write:error=EIO:when=%d+", "write:error=ENOSPC:when=%d+", "write:retval=10:when=%d",
		"openat:error=EIO:when=%d", "ftruncate:error=EIO:when=%d+",
	} {
		for n := 1; n <= count(6, 60); n++ {
			hit, err := traced(t, fmt.Sprintf(fault, n))
			if err != nil {
				t.Errorf(fault+": %v", n, err)
			}
			trials, hits = trials+1, hits+hit
		}
	}
	if hits < trials/2 {
		t.Errorf("only %d calls were made to fail in %d runs", hits, trials)
	}
	t.Logf("%d runs under strace, %d calls made to fail", trials, hits)
}

// TestRealFailuresControl: a program that syncs again after a failed sync, that takes what
// failed for written, and that says "kept" too early, is found out.
func TestRealFailuresControl(t *testing.T) {
	needs(t, "strace")
	for fault, broken := range map[string]string{
		"fsync:error=EIO:when=3":      helperDisk + "=stubborn",
		"write:error=EIO:when=3":      helperDisk + "=greedy",
		"write:signal=SIGKILL:when=3": helperEarly + "=1",
	} {
		_, err := traced(t, fault, broken)
		if err == nil {
			t.Errorf("%s with %s is said to be right: the suite cannot see", fault, broken)
		}
		t.Logf("%s with %s: %v", fault, broken, err)
	}
}

var failedSync = regexp.MustCompile(`fsync\(\d+<([^>]*\.jsonl)>\) += (-1|0)`)

// traced runs the helper under a fault, and returns how many calls that hit.
func traced(t *testing.T, fault string, env ...string) (hits int, err error) {
	t.Helper()
	folder := t.TempDir()
	trace := filepath.Join(t.TempDir(), "trace")
	path := filepath.Join(folder, "log/2026", "20261125T170200Z-"+run+publicEnd)
	cmd := exec.Command("strace", "-f", "-y", "-o", trace, "-P", path, "-P", filepath.Dir(path), "-e", "trace=write,fsync,ftruncate,openat", "-e", "inject="+fault,
		os.Args[0], "-test.run=^$")
	cmd.Env = append(append(os.Environ(), helperHome+"="+folder, helperMost+"=20", "GOMAXPROCS=1"), env...)
	out, _ := cmd.Output() // it may have been killed
	kept := 0
	if lines := strings.Split(string(out), "\n"); len(lines) > 1 {
		kept, _ = strconv.Atoi(lines[len(lines)-2])
	}
	text, err := os.ReadFile(trace)
	if err != nil {
		return 0, err
	}
	hits = bytes.Count(text, []byte("(INJECTED)")) + bytes.Count(text, []byte("+++ killed by SIGKILL"))
	failed := map[string]bool{}
	for _, m := range failedSync.FindAllStringSubmatch(string(text), -1) {
		if failed[m[1]] {
			return hits, fmt.Errorf("%s was synced again after a failed sync", filepath.Base(m[1]))
		}
		failed[m[1]] = m[2] == "-1"
	}
	if kept == 0 {
		return hits, nil // it was killed before it said a word
	}
	_, err = checkPresses(folder, kept)
	if strings.HasPrefix(fault, "write:retval") && (errors.Is(err, ErrDamaged) || errors.Is(err, ErrTorn)) {
		return hits, nil // the kernel said that it wrote, and did not: a bad line, and named
	}
	return hits, err
}
