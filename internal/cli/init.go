package cli

import (
	"embed"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"hawser/internal/house"
)

// start is a coach's first home, once in kg and m, once in lb and yd.
//
//go:embed start
var start embed.FS

func (s *shell) initCommand() *cobra.Command {
	units := "kg"
	cmd := &cobra.Command{
		Use:   "init DIR",
		Short: "Write a home of your own, with comments that teach the format",
		Long: "Writes roster.toml and kit.toml, house.toml with every house rule at its value, and three\n" +
			"sessions into a new folder, with comments that teach the format. People, sleds and plates\n" +
			"are added in the program or in the files. Three names and one sled are enough for a class.",
		Example: "hawser init ~/my-class\nhawser init ~/my-class --units lb",
		Args:    one("DIR"),
		RunE: func(_ *cobra.Command, args []string) error {
			if units != "kg" && units != "lb" {
				return usage(fmt.Errorf("--units %q is no unit here; write kg or lb", shown(units)))
			}
			if err := writeHome(args[0], units); err != nil {
				return err
			}
			fmt.Fprintf(s.talk, "written. Your people and sleds are missing: in the program the key n adds them.\n\n  hawser --home %[1]s\n", shown(args[0]))
			return nil
		},
	}
	cmd.Flags().StringVar(&units, "units", "kg", "kg (and m) or lb (and yd)")
	mustFlag(cmd.RegisterFlagCompletionFunc("units", cobra.FixedCompletions([]string{"kg", "lb"}, cobra.ShellCompDirectiveNoFileComp)))
	cmd.ValidArgsFunction = cobra.FixedCompletions(nil, cobra.ShellCompDirectiveFilterDirs)
	return cmd
}

// writeHome writes the first home; it overwrites nothing.
func writeHome(dir, units string) error {
	if isHome(dir) {
		return usage(fmt.Errorf("%s is a home already; choose another folder", shown(dir)))
	}
	files, err := fs.Sub(start, "start/"+units)
	if err != nil {
		return fmt.Errorf("open the first home: %w", err)
	}
	err = fs.WalkDir(files, ".", func(name string, entry fs.DirEntry, err error) error {
		if err != nil {
			return fmt.Errorf("read the first home: %w", err)
		}
		path := filepath.Join(dir, filepath.FromSlash(name))
		if entry.IsDir() {
			return os.MkdirAll(path, 0o700) // it names the path
		}
		src, err := fs.ReadFile(files, name)
		if err != nil {
			return fmt.Errorf("read the first home: %w", err)
		}
		return writeNew(path, namesSchema(name, src))
	})
	if err != nil {
		return fmt.Errorf("write the home: %w", err)
	}
	rules := house.Default()
	if units == "lb" {
		rules.Show, rules.ShowDistance = "lb", "yd"
	}
	if err := writeNew(filepath.Join(dir, "house.toml"), namesSchema("house.toml", house.Write(rules))); err != nil {
		return err
	}
	if err := os.Mkdir(filepath.Join(dir, schemaFolder), 0o700); err != nil {
		return fmt.Errorf("write the home: %w", err)
	}
	return writeSchemas(dir)
}

// writeNew writes a file that must not exist yet, for its owner's eyes.
func writeNew(path string, src []byte) error {
	file, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return fmt.Errorf("write the home: %w", err)
	}
	defer file.Close()
	if _, err := file.Write(src); err != nil {
		return fmt.Errorf("write %s: %w", shown(path), err)
	}
	if err := file.Sync(); err != nil {
		return fmt.Errorf("write %s: %w", shown(path), err)
	}
	return nil
}
