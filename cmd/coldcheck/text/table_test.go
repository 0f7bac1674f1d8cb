package text

import (
	"bytes"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func TestTable(t *testing.T) {
	for _, c := range []struct {
		name   string
		widths []int
		rows   [][]string
		want   string
	}{
		{"columns-as-wide-as-needed", []int{20, 20}, [][]string{{"a", "b"}, {"long cell", "c"}},
			"  a          b\n  long cell  c\n"},
		{"cell-goes-on-below", []int{6, 20}, [][]string{{"two words", "one line"}, {"x", "y"}},
			"  two    one line\n  words\n  x      y\n"},
		{"last-cell-goes-on-below", []int{6, 9}, [][]string{{"x", "one line more"}},
			"  x  one line\n     more\n"},
		{"empty-cell", []int{6, 9}, [][]string{{"x", "y"}, {"", "z"}},
			"  x  y\n     z\n"},
	} {
		t.Run(c.name, func(t *testing.T) {
			table := &Table{Widths: c.widths}
			for _, row := range c.rows {
				table.Row(row...)
			}
			var b bytes.Buffer
			NewPage(&b, false, Width).Table(2, table)
			if diff := cmp.Diff(c.want, b.String()); diff != "" {
				t.Errorf("(-want +got):\n%s", diff)
			}
		})
	}
}

func TestPara(t *testing.T) {
	var b bytes.Buffer
	p := NewPage(&b, false, Width)
	p.Para("head  ", "a text that is long enough to go on to a second line, where it stands below itself and not below the head")
	want := "head  a text that is long enough to go on to a second line, where it stands below itself and not\n" +
		"      below the head\n"
	if diff := cmp.Diff(want, b.String()); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}
