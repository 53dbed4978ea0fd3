package logbook

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"testing"
	"time"

	"hawser/internal/floor"
)

// helperHome makes this binary the program that is killed: it takes up the run of
// that home, or begins one, and says of each event when it is kept.
// It ends by itself after so many events, and has one of brokenDisks, if that is asked for.
const (
	helperHome  = "HAWSER_TEST_HOME"
	helperEarly = "HAWSER_TEST_EARLY"
	helperMost  = "HAWSER_TEST_MOST"
	helperDisk  = "HAWSER_TEST_DISK"
)

func TestMain(m *testing.M) {
	if folder := os.Getenv(helperHome); folder != "" {
		if err := appendForEver(folder, os.Stdout); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
	}
	os.Exit(m.Run())
}

// appendForEver appends presses whose round is their number. With helperEarly it
// says so before it is true, which the test must notice.
func appendForEver(folder string, out io.Writer) error {
	home, err := Open(folder)
	if err != nil {
		return err
	}
	if broken := brokenDisks[os.Getenv(helperDisk)]; broken != nil {
		home.files = broken(home.files)
	}
	left, _, err := home.Unfinished(opening())
	if err != nil {
		return err
	}
	var w *Writer
	if left == nil {
		w, err = home.Create(floor.Stamped{N: 1, E: openedBy(run, opening())})
	} else {
		w, _, err = home.Resume(left)
	}
	if err != nil && !errors.Is(err, ErrWaiting) {
		return err
	}
	most, err := strconv.Atoi(os.Getenv(helperMost))
	if err != nil {
		most = 1 << 40
	}
	for n := w.n + 1; n <= most; n++ {
		if os.Getenv(helperEarly) != "" {
			fmt.Fprintln(out, n)
		}
		switch err := w.Append(press(n)); {
		case errors.Is(err, ErrWaiting):
			continue
		case err != nil:
			return err
		}
		if os.Getenv(helperEarly) == "" {
			fmt.Fprintln(out, n)
		}
	}
	os.Exit(0)
	return nil
}

func press(n int) floor.Stamped {
	return floor.Stamped{N: n, T: time.Duration(n) * time.Millisecond, E: floor.Pressed{Who: "Maren", Part: 1, Round: n, As: "done"}}
}

// helper starts this binary on a home and waits for its first word.
func helper(t *testing.T, folder string, env ...string) (*exec.Cmd, *bufio.Scanner) {
	t.Helper()
	cmd := exec.Command(os.Args[0], "-test.run=^$")
	cmd.Env = append(append(os.Environ(), helperHome+"="+folder), env...)
	cmd.Stderr = os.Stderr
	out, err := cmd.StdoutPipe()
	if err := errors.Join(err, cmd.Start()); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = cmd.Process.Kill() })
	said := bufio.NewScanner(out)
	if !said.Scan() {
		t.Fatal("the helper said nothing")
	}
	return cmd, said
}

// killed kills a helper after it has said a few words, in the middle of whatever it
// does then, and returns the last event it said was kept.
func killed(t *testing.T, folder string, env ...string) int {
	t.Helper()
	cmd, said := helper(t, folder, env...)
	last, words := 0, 1+rand.IntN(30)
	for i := 1; ; i++ {
		last = must[int](t)(strconv.Atoi(said.Text()))
		if i == words {
			_ = cmd.Process.Kill()
		}
		if !said.Scan() {
			break
		}
	}
	_ = cmd.Wait() // it was killed
	return last
}

// TestKill: killed at any instant, all that was shown as kept is there, and the next
// start takes the run up without a question.
func TestKill(t *testing.T) {
	t.Parallel()
	trials := count(20, 20_000)
	folder := t.TempDir()
	beyond := 0
	for i := range trials {
		if spent(t) {
			trials = i
			break
		}
		if i%100 == 0 {
			folder = t.TempDir()
		}
		kept := killed(t, folder)
		there, err := checkPresses(folder, kept)
		if err != nil {
			t.Fatalf("kill %d: %v", i, err)
		}
		beyond += there - kept
	}
	t.Logf("killed %d times; nothing lost; %d events were on the disk before that was said", trials, beyond)
}

// checkPresses checks that the presses up to kept are there and right.
func checkPresses(folder string, kept int) (int, error) {
	all, err := Runs(folder)
	if err == nil && len(all) != 1 {
		err = fmt.Errorf("%d runs, want 1", len(all))
	}
	if err != nil {
		return 0, err
	}
	log, err := Load(filepath.Join(folder, all[0].Path))
	if err != nil {
		return 0, err
	}
	if err := log.Err(); err != nil {
		return 0, err
	}
	for i, e := range log.Events[1:] {
		if want := press(i + 2); e.N != want.N || e.T != want.T || e.E != want.E {
			return 0, fmt.Errorf("event %d is %+v", i+2, e)
		}
	}
	if len(log.Events) < kept {
		err := fmt.Errorf("%d kept, %d there", kept, len(log.Events))
		for _, d := range log.Damage {
			err = errors.Join(err, d)
		}
		return 0, err
	}
	return len(log.Events), nil
}

// TestKillControl: a program that says kept too early is found out.
func TestKillControl(t *testing.T) {
	t.Parallel()
	for range 200 {
		folder := t.TempDir()
		if _, err := checkPresses(folder, killed(t, folder, helperEarly+"=1")); err != nil {
			return
		}
	}
	t.Error("200 kills found no loss in a program that loses: the suite cannot see")
}

// TestOneWriter: while one process has a home, running or stopped, another is told
// which; the moment it is killed, the home is free.
func TestOneWriter(t *testing.T) {
	t.Parallel()
	trials := count(3, 10_000)
	for i := range trials {
		if spent(t) {
			trials = i
			break
		}
		folder := t.TempDir()
		cmd, _ := helper(t, folder)
		for range 2 {
			if err := refused(folder, cmd.Process.Pid); err != nil {
				t.Fatalf("trial %d: %v", i, err)
			}
			stopProcess(t, cmd.Process)
		}
		_ = cmd.Process.Kill()
		_ = cmd.Wait()
		home, err := Open(folder)
		if err != nil {
			t.Fatalf("trial %d: its holder is dead, but %v", i, err)
		}
		if _, err := Open(folder); !errors.Is(err, ErrInUse) {
			t.Fatalf("trial %d: one process twice: %v, want ErrInUse", i, err)
		}
		if err := home.Close(); err != nil {
			t.Fatal(err)
		}
	}
	t.Logf("%d homes held, stopped and killed", trials)
}

// refused wants a home not to be had, since a process has it.
func refused(folder string, pid int) error {
	h, err := Open(folder)
	if h != nil {
		return errors.Join(errors.New("a home has two writers"), h.Close())
	}
	if used, ok := errors.AsType[*InUseError](err); !ok || !errors.Is(err, ErrInUse) || used.PID != pid {
		return fmt.Errorf("open says %w, want process %d named", err, pid)
	}
	return nil
}

// TestOneWriterControl: a second writer is found out, where the lock is gone, and so is one
// that is told of another process.
func TestOneWriterControl(t *testing.T) {
	t.Parallel()
	folder := t.TempDir()
	cmd, _ := helper(t, folder)
	if err := refused(folder, cmd.Process.Pid+1); err == nil {
		t.Error("another process is named, and that is said to be right: the suite cannot see")
	}
	if err := os.Remove(filepath.Join(folder, lockName)); err != nil {
		t.Fatal(err)
	}
	if err := refused(folder, cmd.Process.Pid); err == nil {
		t.Error("without a lock, a home is said to have one writer: the suite cannot see")
	}
}
