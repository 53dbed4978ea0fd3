package cli

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"hawser/internal/coachfile"
	"hawser/internal/house"
	"hawser/internal/kit"
	"hawser/internal/roster"
	"hawser/internal/session"
	"hawser/internal/week"
)

func (s *shell) checkCommand() *cobra.Command {
	var asJSON bool
	cmd := &cobra.Command{
		Use:   "check [FILE…]",
		Short: "Read a coach's files and name every fault with its place",
		Long: "Reads files and says of each what is wrong, where, and what to write instead.\n" +
			"A folder is checked whole; without a name it is the home.",
		Example: "hawser check\nhawser check sessions/slack-water.toml\nhawser check ~/my-class --json",
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				args = []string{s.locate("")}
			}
			var pages []checked
			for _, arg := range args {
				pages = append(pages, checkAll(arg)...)
			}
			return printChecked(cmd.OutOrStdout(), pages, asJSON)
		},
	}
	cmd.Flags().BoolVar(&asJSON, "json", false, "print the faults as JSON")
	return cmd
}

// checked is one file that was checked, with its faults.
type checked struct {
	File   string  `json:"file"`
	OK     bool    `json:"ok"`
	Faults []fault `json:"faults"`
}

// fault is one of them; line and column are 0 where it has no place.
type fault struct {
	Line  int    `json:"line"`
	Col   int    `json:"column"`
	What  string `json:"what"`
	Write string `json:"write"`
}

// checkAll checks a file, or all coach's files of a folder.
func checkAll(path string) []checked {
	info, err := os.Stat(path)
	if err != nil || !info.IsDir() {
		return []checked{checkFile(path)}
	}
	var pages []checked
	for _, pattern := range []string{"roster.toml", "kit.toml", "house.toml", "week.toml", nextName, "sessions/*.toml"} {
		files, _ := fs.Glob(os.DirFS(path), pattern) // the pattern is good
		for _, file := range files {
			pages = append(pages, checkFile(filepath.Join(path, filepath.FromSlash(file))))
		}
	}
	if len(pages) == 0 {
		pages = append(pages, newChecked(path, errors.New("there is no roster.toml in it; write a home with: hawser init DIR")))
	}
	return pages
}

// checkFile reads one file as what its name says; any other name is a session's.
func checkFile(path string) checked {
	src, err := readFile(path)
	if err != nil {
		return newChecked(path, cause(errors.Unwrap(err)))
	}
	switch filepath.Base(path) {
	case "roster.toml":
		_, err = roster.Parse(path, src)
	case "kit.toml":
		_, err = kit.Parse(path, src)
	case "house.toml":
		_, err = house.Parse(path, src)
	case "week.toml":
		_, err = week.Parse(path, src)
	case nextName:
		_, err = session.ParseAccepted(path, src)
	default:
		_, err = session.Parse(path, src)
	}
	return newChecked(path, err)
}

func newChecked(path string, err error) checked {
	c := checked{File: shown(path), OK: err == nil, Faults: []fault{}}
	if faults, ok := errors.AsType[coachfile.Faults](err); ok {
		for _, f := range faults {
			c.Faults = append(c.Faults, fault{f.Line, f.Col, shown(f.What), shown(f.Write)})
		}
	} else if err != nil {
		c.Faults = append(c.Faults, fault{What: shown(err.Error())})
	}
	return c
}

// printChecked says "ok" or the faults of every file; a fault is exit status 3.
func printChecked(out io.Writer, pages []checked, asJSON bool) error {
	var wrong int
	for _, c := range pages {
		if !c.OK {
			wrong++
		}
	}
	if asJSON {
		if err := printJSON(out, struct {
			Files []checked `json:"files"`
		}{pages}); err != nil {
			return err
		}
	} else {
		for _, c := range pages {
			c.print(out)
		}
	}
	if wrong > 0 {
		return &exit{BadFile, nil}
	}
	return nil
}

func (c *checked) print(out io.Writer) {
	if c.OK {
		fmt.Fprintf(out, "%s: ok\n", c.File)
	}
	for _, f := range c.Faults {
		fmt.Fprintln(out, coachfile.Fault{File: c.File, Line: f.Line, Col: f.Col, What: f.What, Write: f.Write}.Error())
	}
}
