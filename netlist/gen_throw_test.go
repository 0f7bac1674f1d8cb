package netlist

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func TestGen(t *testing.T) {
	files, _ := filepath.Glob("testdata/invalid/*.toml")
	for _, f := range files {
		data, _ := os.ReadFile(f)
		lines := strings.Split(string(data), "\n")
		for len(lines) > 0 && strings.HasPrefix(lines[0], "# error: ") {
			lines = lines[1:]
		}
		body := strings.Join(lines, "\n")
		_, err := Load("f", strings.NewReader(body))
		var ps Problems
		if !errors.As(err, &ps) {
			fmt.Println("NO ERROR", f)
			continue
		}
		n := len(ps)
		_, err = Load("f", strings.NewReader(strings.Repeat("#\n", n)+body))
		var ps2 Problems
		errors.As(err, &ps2)
		if len(ps2) != n {
			fmt.Println("DIFFERENT", f)
		}
		fmt.Println("==", filepath.Base(f))
		out := ""
		for _, p := range ps2 {
			text, _, _ := strings.Cut(p.Text, "\n")
			fmt.Printf("%d:%d: %s\n      | %s\n", p.Pos.Line-n, p.Pos.Col, p.Text, func() string {
				if p.Pos.Line-n < 1 {
					return "?"
				}
				l := []rune(lines[p.Pos.Line-n-1])
				if p.Pos.Col-1 > len(l) {
					return "PAST"
				}
				return string(l[p.Pos.Col-1:])
			}())
			out += fmt.Sprintf("# error: %d:%d: %s\n", p.Pos.Line, p.Pos.Col, text)
		}
		if os.Getenv("GEN") != "" {
			os.WriteFile(f, []byte(out+body), 0o644)
		}
	}
}
