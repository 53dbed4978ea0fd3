package cli

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"

	"github.com/adrg/xdg"

	"hawser/internal/house"
	"hawser/internal/kit"
	"hawser/internal/roster"
	"hawser/internal/session"
	"hawser/sessions"
)

// home is an opened home folder, its files read. Logs is where its runs are kept.
type home struct {
	path  string // as it is named in messages
	files fs.FS
	demo  bool
	logs  string

	roster *roster.Roster
	kit    *kit.Kit
	house  *house.House

	accepted []session.Accepted // loads for next time, of next.toml beside the logs
}

// limit is more than any coach file may have; the parsers refuse what is over theirs.
const limit = 2 << 20

// locate returns the folder to look in and nothing of what is in it. A session file that
// was named by its path and lies in a home brings that home along.
func (s *shell) locate(arg string) string {
	if s.folder != "" {
		return s.folder
	}
	if isPath(arg) {
		dir := filepath.Dir(arg)
		for _, folder := range []string{dir, filepath.Dir(dir)} {
			if isHome(folder) {
				return folder
			}
		}
	}
	if folder := os.Getenv("HAWSER_HOME"); folder != "" {
		return folder
	}
	return filepath.Join(dataFolder(), "hawser")
}

// dataFolder is the XDG data folder, on macOS too.
func dataFolder() string {
	if runtime.GOOS == "darwin" && os.Getenv("XDG_DATA_HOME") == "" {
		return filepath.Join(xdg.Home, ".local", "share")
	}
	return xdg.DataHome
}

// isHome reports whether folder is a home: it has a roster.toml.
func isHome(folder string) bool {
	info, err := os.Stat(filepath.Join(folder, "roster.toml"))
	return err == nil && info.Mode().IsRegular()
}

// open reads the home, for a session that was named, "" for none. Without a home the
// made-up one serves and talk says so.
func (s *shell) open(arg string) (*home, error) {
	folder := s.locate(arg)
	h := &home{path: folder, logs: folder}
	if isHome(folder) {
		root, err := os.OpenRoot(folder)
		if err != nil {
			return nil, fmt.Errorf("open the home folder: %w", err)
		}
		h.files = root.FS()
	} else {
		h.demo, h.files, h.logs = true, sessions.Home(), filepath.Join(folder, "demo")
		fmt.Fprintf(s.talk, "no roster.toml in %s: this is the made-up class of a boathouse; "+
			"for your own write: hawser init DIR\n", shown(folder))
	}
	s.home = h
	return h, h.read()
}

// read parses the files that every command needs, and returns all their faults.
func (h *home) read() error {
	var faults []error
	var err error
	if h.roster, err = parse(h, "roster.toml", roster.Parse); err != nil {
		faults = append(faults, err)
	}
	if h.kit, err = parse(h, "kit.toml", kit.Parse); err != nil {
		faults = append(faults, err)
	}
	if h.roster != nil && h.kit != nil {
		if wrong := roster.Resolve(h.roster, h.kit); len(wrong) > 0 {
			faults = append(faults, wrong)
		}
	}
	h.house, err = parse(h, "house.toml", house.Parse)
	if errors.Is(err, fs.ErrNotExist) {
		h.house, err = house.Default(), nil
	}
	if err != nil {
		faults = append(faults, err)
	}
	if h.accepted, err = h.readNext(); err != nil {
		faults = append(faults, err)
	}
	return errors.Join(faults...)
}

// parse reads one file of the home with its parser.
func parse[T any](h *home, name string, parser func(path string, src []byte) (T, error)) (T, error) {
	src, err := h.source(name)
	if err != nil {
		var none T
		return none, err
	}
	return parser(h.name(name), src)
}

// name is a file of the home as messages write it.
func (h *home) name(file string) string {
	if h.demo {
		return file
	}
	return filepath.Join(h.path, filepath.FromSlash(file))
}

// source reads a file of the home, no more of it than any parser takes.
func (h *home) source(name string) ([]byte, error) {
	file, err := h.files.Open(name)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", shown(h.name(name)), cause(err))
	}
	defer file.Close()
	return readAll(file, h.name(name))
}

// session finds a session by its name in the home, or by the path of its file,
// and holds it against the roster and the kit.
func (h *home) session(arg string) (*session.Session, error) {
	var one *session.Session
	var err error
	if isPath(arg) {
		var src []byte
		if src, err = readFile(arg); err != nil {
			return nil, err
		}
		one, err = session.Parse(arg, src)
	} else {
		one, err = parse(h, "sessions/"+arg+".toml", session.Parse)
		if errors.Is(err, fs.ErrNotExist) && !slices.Contains([]string{"roster", "kit", "house", "week", "next"}, arg) { // a session that lies beside the roster
			if lone, wrong := parse(h, arg+".toml", session.Parse); !errors.Is(wrong, fs.ErrNotExist) {
				one, err = lone, wrong
			}
		}
	}
	switch {
	case errors.Is(err, fs.ErrNotExist) && !isPath(arg), errors.Is(err, fs.ErrInvalid):
		return nil, usage(fmt.Errorf("there is no session %q; %s", shown(arg), h.offer()))
	case err != nil:
		return nil, err
	}
	if faults := session.Check(one, h.roster, h.kit); len(faults) > 0 {
		return nil, faults
	}
	return one, nil
}

// offer names the sessions that there are.
func (h *home) offer() string {
	list := h.sessions()
	if len(list) == 0 {
		return "write one as sessions/NAME.toml"
	}
	return "there are " + shown(strings.Join(list, ", "))
}

// sessions returns the names of the home's session files, sorted.
func (h *home) sessions() []string {
	files, _ := fs.Glob(h.files, "sessions/*.toml") // the pattern is good
	for i, file := range files {
		files[i] = strings.TrimSuffix(strings.TrimPrefix(file, "sessions/"), ".toml")
	}
	slices.Sort(files)
	return files
}

// sounds is the folder of the coach's own cue sounds, "" in the made-up home.
func (h *home) sounds() string {
	if h.demo {
		return ""
	}
	return filepath.Join(h.path, "sounds")
}

// isPath reports whether arg is the path of a session file rather than a name.
func isPath(arg string) bool {
	return strings.HasSuffix(arg, ".toml") || strings.ContainsAny(arg, `/\`)
}
