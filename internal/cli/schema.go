package cli

import (
	"cmp"
	"fmt"
	"io/fs"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"hawser/internal/schema"
)

func (s *shell) schemaCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "schema NAME",
		Short: "Print a JSON Schema of one of the coach's files, for an editor",
		Long: "Prints what an editor needs to complete the keys of a file and to mark slips as they are\n" +
			"typed: of " + strings.Join(schema.Files(), ", ") + ". A home that init wrote has them all in its\n" +
			"folder " + schemaFolder + ", and its files name them in their first line.",
		Example:   "hawser schema session\nhawser schema kit > kit.json",
		Args:      one("NAME"),
		ValidArgs: schema.Files(),
		RunE: func(cmd *cobra.Command, args []string) error {
			page, ok := schema.Of(strings.TrimSuffix(args[0], ".toml"))
			if !ok {
				return usage(fmt.Errorf("there is no schema %q; there are %s", shown(args[0]), strings.Join(schema.Files(), ", ")))
			}
			if _, err := cmd.OutOrStdout().Write(page); err != nil {
				return fmt.Errorf("print the schema: %w", err)
			}
			return nil
		},
	}
}

// schemaFolder is where a home keeps the schemas of its files.
const schemaFolder = ".schemas"

// schemaOf returns the name of the schema of a file of a home, "" where it has none.
func schemaOf(file string) string {
	name := strings.TrimSuffix(file, ".toml")
	if path.Dir(file) == "sessions" {
		name = "session"
	}
	if !slices.Contains(schema.Files(), name) {
		return ""
	}
	return name
}

// namesSchema puts a comment before a new file by which editors find its schema.
func namesSchema(file string, src []byte) []byte {
	up := cmp.Or(strings.Repeat("../", strings.Count(file, "/")), "./")
	return append(fmt.Appendf(nil, "#:schema %s%s/%s.json\n", up, schemaFolder, schemaOf(file)), src...)
}

// fresh is a file that the home did not have; it names its schema where the home
// has schemas.
func (h *home) fresh(file string, src []byte) []byte {
	if _, err := fs.Stat(h.files, schemaFolder); err != nil || schemaOf(file) == "" {
		return src
	}
	return namesSchema(file, src)
}

// writeSchemas writes all schemas into a new home.
func writeSchemas(dir string) error {
	for _, name := range schema.Files() {
		page, _ := schema.Of(name)
		if err := writeNew(filepath.Join(dir, schemaFolder, name+".json"), page); err != nil {
			return err
		}
	}
	return nil
}
