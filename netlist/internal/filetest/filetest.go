// Package filetest is what the tests of set files and plans share.
package filetest

import (
	"path/filepath"
	"strings"
	"testing"

	"coldcheck/netlist"
)

// BenchHead is the head of a set that lacks nothing; parts may follow.
const BenchHead = `[set]
name = "bench"
[nodes]
chassis = { touch = "chassis" }
[parts]
PL1 = { kind = "plug", hot = "line 1", neutral = "line 2" }
BOND = { kind = "wire", ends = ["line 2", "chassis"] }
`

// Fixtures returns the files that match a pattern, and fails where there are none.
func Fixtures(t testing.TB, pattern string) []string {
	t.Helper()
	files, err := filepath.Glob(pattern)
	if err != nil || len(files) == 0 {
		t.Fatalf("no files match %s (%v)", pattern, err)
	}
	return files
}

// Name is the name of a fixture, without folder and ending.
func Name(file string) string { return strings.TrimSuffix(filepath.Base(file), ".toml") }

// CheckPlace fails where a place is neither inside a file nor the file as a whole.
func CheckPlace(t testing.TB, pos netlist.Pos, data []byte) {
	t.Helper()
	if pos.Line == 0 && pos.Col == 0 {
		return // of the file as a whole
	}
	lines := strings.Split(strings.TrimPrefix(string(data), "\xef\xbb\xbf"), "\n")
	if pos.Line < 1 || pos.Line > len(lines) || pos.Col < 1 || pos.Col > len([]rune(lines[pos.Line-1]))+1 {
		t.Errorf("%v is outside the file", pos)
	}
}
