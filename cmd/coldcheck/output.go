package main

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"os/signal"
	"path/filepath"
	"syscall"

	"golang.org/x/term"

	"coldcheck/netlist"
)

// output is where a result goes: standard output, or a file that appears whole or not at all.
type output struct {
	*bufio.Writer
	sink   *sink
	colour bool
	file   *os.File // the temporary file, nil for standard output
	path   string   // the file that it becomes
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

// outputBuffer holds back what is written, so that a row at a time costs no call of the system.
const outputBuffer = 64 << 10

// open makes the output of a command ready. path is the file of --write, "" for standard output.
func (c *call) open(path string) (*output, error) {
	if path == "" || path == "-" {
		s := &sink{w: c.stdout}
		return &output{Writer: bufio.NewWriterSize(s, outputBuffer), sink: s, colour: wantsColour(c.stdout)}, nil
	}
	if err := mustBeFree(path); err != nil {
		return nil, err
	}
	f, err := newBeside(path)
	if err != nil {
		return nil, fmt.Errorf("cannot write %s: %s", netlist.Visible(path), plainError(err))
	}
	s := &sink{w: f}
	return &output{Writer: bufio.NewWriterSize(s, outputBuffer), sink: s, file: f, path: path}, nil
}

// close brings the last of the result out. A reader that went away is no error.
func (o *output) close() error {
	err := o.Flush()
	if err == nil {
		err = o.sink.err
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
		err = finish(o.file.Name(), func() error { return putInPlace(o.file.Name(), o.path) })
	}
	if err != nil {
		discard(o.file.Name())
		if errors.Is(err, fs.ErrExist) {
			return alreadyThere(o.path)
		}
		return fmt.Errorf("cannot write %s: %s", netlist.Visible(o.path), plainError(err))
	}
	return nil
}

// gone tells that the reader of a pipe closed it.
func gone(err error) bool { return errors.Is(err, syscall.EPIPE) || errors.Is(err, io.ErrClosedPipe) }

// heedPipes makes a closed pipe an error of the write instead of the end of the program.
func heedPipes() { signal.Ignore(syscall.SIGPIPE) }

func mustBeFree(path string) error {
	_, err := os.Lstat(path)
	switch {
	case err == nil:
		return alreadyThere(path)
	case errors.Is(err, fs.ErrNotExist):
		return nil
	}
	return fmt.Errorf("cannot write %s: %s", netlist.Visible(path), plainError(err))
}

func alreadyThere(path string) error {
	return fmt.Errorf("%s is there already and is not overwritten; remove it first, or choose another name", netlist.Visible(path))
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

// putInPlace gives a finished file its name, and never takes the name from another. A link does
// that in one step; a file system without links needs a look first.
func putInPlace(from, to string) error {
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

// wantsColour tells whether a writer is a terminal whose owner has nothing against colours
// (NO_COLOR, in the sense of no-color.org).
func wantsColour(w io.Writer) bool {
	f, ok := w.(*os.File)
	return ok && os.Getenv("NO_COLOR") == "" && os.Getenv("TERM") != "dumb" && term.IsTerminal(int(f.Fd()))
}

// spoil makes the output fail where what was to be written could not be made.
func (o *output) spoil(err error) {
	if o.sink.err == nil {
		o.sink.err = err
	}
}
