package page

import (
	"math"
	"slices"
	"strconv"
	"testing"
	"unicode/utf8"

	"coldcheck/netlist/examples"
)

// The name of a node moves off a vertical line of another node, and stays where moving is no help.
func TestLabelsClear(t *testing.T) {
	lines := []upright{{x: 90, top: 0, low: 200}, {x: 300, top: 0, low: 50}}
	for _, test := range []struct {
		x, y    float64
		letters int
		want    float64
	}{
		{100, 100, 8, 90 + 8*letterWidth/2 + labelClear}, // a line runs through it on the left
		{80, 100, 8, 90 - 8*letterWidth/2 - labelClear},  // on the right
		{90, 100, 8, 90 - 8*letterWidth/2 - labelClear},  // its own
		{100, 300, 8, 100}, // below the line's end
		{310, 100, 8, 310}, // below the other's
		{150, 100, 8, 150}, // far from both
		{100, 100, 15, 90 + 15*letterWidth/2 + labelClear},
	} {
		if got, _ := labelX(lines, test.x, test.y, test.letters); got != test.want {
			t.Errorf("%d letters at %g, %g stand at %g, want %g", test.letters, test.x, test.y, got, test.want)
		}
	}
	lines = append(lines, upright{x: 150, top: 0, low: 200}, upright{x: 60, top: 0, low: 200})
	if got, clear := labelX(lines, 100, 100, 8); got != 100 || clear {
		t.Errorf("between lines it stands at %g, want 100", got)
	}
}

// In the drawings of the examples no name is crossed by a line, those of the whole line side among them.
func TestLabelsOfExamples(t *testing.T) {
	names := 0
	for _, e := range examples.Sets() {
		sheet := exampleSheet(t, e.Name)
		line, _ := sheet.lineScene()
		for i, s := range append(slices.Clone(sheet.scenes), line) {
			l := newLayout(s, form{fold: true, whole: i == len(sheet.scenes)})
			lines := l.uprights()
			for _, j := range l.joints {
				if j.target || j.blade >= 0 {
					continue
				}
				names++
				v := l.jointView(j, lines)
				x, err := strconv.ParseFloat(v.Label.X, 64)
				if err != nil {
					t.Fatal(err)
				}
				y, err := strconv.ParseFloat(v.Label.Y, 64)
				if err != nil {
					t.Fatal(err)
				}
				half := letterWidth / 2 * float64(utf8.RuneCountInString(v.Label.Text))
				for _, u := range l.besideJoint(j, lines) {
					if u.half == 0 && u.top < y && u.low > y && math.Abs(u.x-x) < half {
						t.Errorf("%s, %s: a line runs through %s", e.Name, s.Node, v.Label.Text)
					}
				}
			}
		}
	}
	if names < 100 {
		t.Errorf("%d names", names)
	}
}
