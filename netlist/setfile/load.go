package setfile

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"

	"coldcheck/netlist"
)

// MaxFileBytes is the largest set file that is read.
const MaxFileBytes = 4 << 20

// LoadFile reads the set file of that name; "-" is stdin.
func LoadFile(path string, stdin io.Reader) (*netlist.Set, error) {
	data, err := ReadFile(path, stdin)
	if err != nil {
		return nil, err
	}
	return loadBytes(path, data)
}

// Load reads a set file. The error, where there is one, is Problems, and then there is no set.
func Load(file string, r io.Reader) (*netlist.Set, error) {
	data, err := readBounded(file, r)
	if err != nil {
		return nil, err
	}
	return loadBytes(file, data)
}

func loadBytes(file string, data []byte) (*netlist.Set, error) {
	go catalogue() // most sets have tubes: its index is made while the file is read
	doc, left, problems := parse(file, data)
	var set *netlist.Set
	if doc != nil {
		var more netlist.Problems
		set, more = build(doc, left)
		problems = append(problems, more...)
	}
	switch {
	case len(problems) > 0 && ContentOf(data) == ContentPlan:
		return nil, netlist.Problems{{Pos: netlist.Pos{File: file, Line: 1, Col: 1}, Text: "this is a plan, and a set file is due here: coldcheck rework SET PLAN, the set file first"}}
	case len(problems) > 0:
		return nil, problems.Sorted()
	}
	if set == nil {
		return nil, fileProblem(file, "is no set that can be looked at: no part in it is a plug")
	}
	return set, nil
}

// ReadFile reads a file whole, within the bound; "-" is stdin. The error is Problems.
func ReadFile(path string, stdin io.Reader) ([]byte, error) {
	if path == "-" && stdin == nil {
		return nil, fileProblem(path, "there is no standard input to read")
	}
	if path == "-" {
		return readBounded(path, stdin)
	}
	info, err := os.Stat(path)
	if err == nil && info.IsDir() {
		return nil, fileProblem(path, "is a directory; name a file in it")
	}
	if err != nil {
		return nil, fileProblem(path, whyNotRead(err))
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, fileProblem(path, whyNotRead(err))
	}
	defer f.Close()
	return readBounded(path, f)
}

func readBounded(file string, r io.Reader) ([]byte, error) {
	data, err := io.ReadAll(io.LimitReader(r, MaxFileBytes+1))
	if err != nil {
		return nil, fileProblem(file, whyNotRead(err))
	}
	if len(data) > MaxFileBytes {
		return nil, fileProblem(file, fmt.Sprintf("is larger than %d MiB; a set file is a few kilobytes of text", MaxFileBytes>>20))
	}
	return data, nil
}

func whyNotRead(err error) string {
	var pathErr *fs.PathError
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return "no such file; look at the spelling and the folder"
	case errors.Is(err, fs.ErrPermission):
		return "may not be read; look at its permissions"
	case errors.As(err, &pathErr):
		return "cannot be read: " + pathErr.Err.Error()
	}
	return "cannot be read: " + err.Error()
}

func fileProblem(file, text string) netlist.Problems {
	return netlist.Problems{{Pos: netlist.Pos{File: file}, Text: text}}
}
