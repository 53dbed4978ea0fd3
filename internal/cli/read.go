package cli

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
)

// readFile reads a file that was named on the command line; "-" is no file.
func readFile(path string) ([]byte, error) {
	file, err := os.Open(path)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", shown(path), cause(err))
	}
	defer file.Close()
	return readAll(file, path)
}

// readAll reads no more than the largest coach file and one byte, so that a file
// that is too large is refused and not swallowed.
func readAll(file fs.File, name string) ([]byte, error) {
	src, err := io.ReadAll(io.LimitReader(file, limit+1))
	if err != nil {
		return nil, fmt.Errorf("%s: %w", shown(name), cause(err))
	}
	return src, nil
}

// cause leaves the path out of an error that will be named by its path.
func cause(err error) error {
	if p, ok := errors.AsType[*fs.PathError](err); ok {
		return p.Err
	}
	return err
}
