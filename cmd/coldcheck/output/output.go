package output

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"syscall"

	"golang.org/x/term"

	"coldcheck/netlist"
)

// Output is where a result goes while it is made.
type Output struct {
	*bufio.Writer
	Colour    bool // whether colours are wanted there
	Columns   int  // of the terminal, 0 where there is none
	sink      *sink
	file      *os.File // the temporary file, nil for standard output
	path      string   // the file that it becomes
	overwrite bool
}

// sink remembers the first error of a writer and writes nothing after it.
type sink struct {
	w   io.Writer
	err error
}

func (s *sink) Write(p []byte) (int, error) {
	if s.err != nil {
		return 0, s.err
	}
	n, err := s.w.Write(p)
	s.err = err
	return n, err
}

// bufferSize holds back what is written, so that a row at a time costs no call of the system.
const bufferSize = 64 << 10

// Print lets fill write to standard output.
func Print(stdout io.Writer, fill func(*Output) error) error {
	s := &sink{w: stdout}
	o := &Output{Writer: bufio.NewWriterSize(s, bufferSize), sink: s, Colour: WantsColour(stdout), Columns: Columns(stdout)}
	return o.close(fill(o))
}

// WriteFile lets fill write a new file, or with overwrite one in place of another. The file is there
// whole or not at all.
func WriteFile(path string, overwrite bool, fill func(*Output) error) error {
	o, err := open(path, overwrite)
	if err != nil {
		return err
	}
	return o.close(fill(o))
}

func open(path string, overwrite bool) (*Output, error) {
	f, err := newBeside(path)
	if err != nil {
		return nil, cannotWrite(path, err)
	}
	s := &sink{w: f}
	return &Output{Writer: bufio.NewWriterSize(s, bufferSize), sink: s, file: f, path: path, overwrite: overwrite}, nil
}

// close brings the last of the result out, unless it could not be made. A reader that went away is
// no error.
func (o *Output) close(err error) error {
	if also := o.Flush(); err == nil {
		err = also
	}
	if o.file == nil {
		if err == nil || gone(err) {
			return nil
		}
		return fmt.Errorf("cannot write the result: %s", plainError(err))
	}
	if err == nil {
		err = o.file.Sync()
	}
	if also := o.file.Close(); err == nil {
		err = also
	}
	if err == nil {
		err = finish(o.file.Name(), func() error { return putInPlace(o.file.Name(), o.path, o.overwrite) })
	}
	if err != nil {
		discard(o.file.Name())
		if errors.Is(err, fs.ErrExist) {
			return alreadyThere(o.path)
		}
		return cannotWrite(o.path, err)
	}
	return nil
}

// gone reports whether the reader of a pipe closed it.
func gone(err error) bool { return errors.Is(err, syscall.EPIPE) || errors.Is(err, io.ErrClosedPipe) }

// MustBeFree tells what keeps a file of that name from being made. It is for saying so before the
// work; that nothing is overwritten is seen to again when the file is put in place.
func MustBeFree(path string) error {
	_, err := os.Lstat(path)
	switch {
	case err == nil:
		return alreadyThere(path)
	case errors.Is(err, fs.ErrNotExist):
		return nil
	}
	return cannotWrite(path, err)
}

func alreadyThere(path string) error {
	return fmt.Errorf("%s is there already and is not overwritten; remove it first, or choose another name", netlist.Visible(path))
}

func cannotWrite(path string, err error) error {
	return fmt.Errorf("cannot write %s: %s", netlist.Visible(path), plainError(err))
}

// newBeside makes a new file in the folder of path, with the permissions that path is to have.
func newBeside(path string) (*os.File, error) {
	for n := 0; ; n++ {
		name := filepath.Join(filepath.Dir(path), fmt.Sprintf(".%s.%d-%d", filepath.Base(path), os.Getpid(), n))
		f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
		if err == nil {
			noteUnfinished(name)
		}
		if err == nil || !errors.Is(err, fs.ErrExist) {
			return f, err
		}
	}
}

// putInPlace gives a finished file its name, and never takes the name from another unless it is to
// overwrite. A link does that in one step; a file system without links needs a look first.
func putInPlace(from, to string, overwrite bool) error {
	if overwrite {
		return os.Rename(from, to)
	}
	err := os.Link(from, to)
	if err == nil {
		return os.Remove(from)
	}
	if errors.Is(err, fs.ErrExist) {
		return err
	}
	if _, there := os.Lstat(to); there == nil {
		return fs.ErrExist
	}
	return os.Rename(from, to)
}

// plainError is what the system says, without the name of the call and of the file.
func plainError(err error) string {
	var path *fs.PathError
	var link *os.LinkError
	switch {
	case errors.As(err, &path):
		err = path.Err
	case errors.As(err, &link):
		err = link.Err
	}
	return err.Error()
}

// WantsColour reports whether a writer is a terminal whose owner has nothing against colours
// (NO_COLOR, in the sense of no-color.org).
func WantsColour(w io.Writer) bool {
	f, ok := w.(*os.File)
	return ok && os.Getenv("NO_COLOR") == "" && os.Getenv("TERM") != "dumb" && term.IsTerminal(int(f.Fd()))
}

// Columns is the width of the terminal that a writer is, 0 where it is none or has no width.
func Columns(w io.Writer) int {
	f, ok := w.(*os.File)
	if !ok {
		return 0
	}
	columns, _, err := term.GetSize(int(f.Fd()))
	if err != nil {
		return 0
	}
	return columns
}
