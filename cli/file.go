package cli

import (
	"bytes"
	"errors"
	"io/fs"
	"os"
	"path/filepath"

	"glidepath/fault"
)

// writeFile writes a file that its owner alone may read, whole or not at all. One
// that is there with other content is a Conflict, unless force is true.
func writeFile(path string, content []byte, force bool) error {
	switch old, err := os.ReadFile(path); {
	case err == nil && bytes.Equal(old, content):
		return nil
	case err == nil && !force:
		return fault.New(fault.Conflict, "%s is there already.", path).WithHint("Name another file with --out, or overwrite it with --force.")
	case err != nil && !errors.Is(err, fs.ErrNotExist):
		return fileFault(err)
	}
	f, err := os.CreateTemp(filepath.Dir(path), "."+filepath.Base(path)+"-*")
	if err != nil {
		return fileFault(err)
	}
	_, err = f.Write(content)
	if err = errors.Join(err, f.Close()); err == nil {
		err = os.Rename(f.Name(), path)
	}
	if err != nil {
		return fileFault(errors.Join(err, os.Remove(f.Name())))
	}
	return nil
}

// readFile reads a file that a person named; - is the standard input.
func (s *session) readFile(path string) ([]byte, error) {
	const most = 64 << 20
	if path != "-" {
		info, err := os.Stat(path)
		switch {
		case err != nil:
			return nil, fileFault(err)
		case info.IsDir():
			return nil, fault.New(fault.Invalid, "%s is a directory.", path)
		case info.Size() > most:
			return nil, fault.New(fault.Invalid, "%s is larger than %d MB.", path, most>>20)
		}
		content, err := os.ReadFile(path)
		return content, fileFault(err)
	}
	var b bytes.Buffer
	_, err := b.ReadFrom(s.stdin)
	return b.Bytes(), err
}

// fileFault turns what the system says of a file into a fault.
func fileFault(err error) error {
	var at *fs.PathError
	if !errors.As(err, &at) {
		return err
	}
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return fault.New(fault.NotFound, "there is no file or directory %s.", at.Path)
	case errors.Is(err, fs.ErrPermission):
		return fault.New(fault.Invalid, "%s may not be read or written by you.", at.Path)
	}
	return fault.New(fault.Invalid, "%s: %v.", at.Path, at.Err)
}
