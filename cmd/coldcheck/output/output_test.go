package output

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"testing"
)

// TestUnfinishedFilesAreKnown: between its making and its end a file is known as unfinished, whether
// it is put in place, over another or not, or fails.
func TestUnfinishedFilesAreKnown(t *testing.T) {
	t.Chdir(t.TempDir())
	for _, overwrite := range []bool{false, true} {
		err := WriteFile("out.txt", overwrite, func(o *Output) error {
			if !unfinished.names[o.file.Name()] {
				t.Error("a file that is being written is not known")
			}
			o.WriteString("whole\n")
			return nil
		})
		if err != nil || len(unfinished.names) > 0 {
			t.Errorf("%v; unfinished: %v", err, unfinished.names)
		}
		err = WriteFile("other.txt", overwrite, func(*Output) error { return errors.New("spoilt") })
		if err == nil || len(unfinished.names) > 0 {
			t.Errorf("%v; unfinished: %v", err, unfinished.names)
		}
	}
	if left, err := filepath.Glob("*"); err != nil || len(left) != 1 || left[0] != "out.txt" {
		t.Errorf("left %v, %v", left, err)
	}
}

// holds is the text of a file.
func holds(t *testing.T, path string) string {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

func write(t *testing.T, path, text string) {
	t.Helper()
	if err := os.WriteFile(path, []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
}

// TestNothingIsOverwrittenUnasked: also not a file that came while the result was made; nor is
// anything left beside it. Asked to, it is.
func TestNothingIsOverwrittenUnasked(t *testing.T) {
	t.Chdir(t.TempDir())
	for _, there := range []string{"before.txt", "meanwhile.txt"} {
		fill := func(o *Output) error {
			if there == "meanwhile.txt" {
				write(t, there, "theirs")
			}
			_, err := io.WriteString(o, "ours")
			return err
		}
		if there == "before.txt" {
			write(t, there, "theirs")
		}
		want := there + " is there already and is not overwritten; remove it first, or choose another name"
		if err := WriteFile(there, false, fill); err == nil || err.Error() != want {
			t.Errorf("%s: %v", there, err)
		}
		if got := holds(t, there); got != "theirs" {
			t.Errorf("%s holds %q", there, got)
		}
		if err := WriteFile(there, true, fill); err != nil || holds(t, there) != "ours" {
			t.Errorf("%s, asked for: %v", there, err)
		}
	}
	if left, err := os.ReadDir("."); err != nil || len(left) != 2 {
		t.Errorf("left %v, %v", left, err)
	}
}

// TestNothingIsOverwrittenWithoutLinks: nor where the file system makes no link, as none is made to a
// folder.
func TestNothingIsOverwrittenWithoutLinks(t *testing.T) {
	t.Chdir(t.TempDir())
	if err := os.Mkdir("from", 0o777); err != nil {
		t.Fatal(err)
	}
	write(t, "to", "theirs")
	if err := os.Link("from", "link"); err == nil || errors.Is(err, fs.ErrExist) {
		t.Skip("a folder has links here")
	}
	if err := putInPlace("from", "to", false); !errors.Is(err, fs.ErrExist) {
		t.Errorf("over another: %v", err)
	}
	if err := putInPlace("from", "free", false); err != nil {
		t.Errorf("where none is: %v", err)
	}
}

// TestMustBeFree: a name is free where nothing has it, not even a link that leads nowhere.
func TestMustBeFree(t *testing.T) {
	t.Chdir(t.TempDir())
	write(t, "file", "")
	if err := os.Symlink("nowhere", "link"); err != nil {
		t.Skip(err)
	}
	for path, free := range map[string]bool{"new": true, "file": false, "link": false, "file/new": false} {
		if err := MustBeFree(path); (err == nil) != free {
			t.Errorf("%s: %v", path, err)
		}
	}
}
