package working

import (
	"slices"
	"testing"

	"coldcheck/netlist/setfile"
)

// TestAmplifyingCathodes: a rectifying section's cathode stands at the rectified volts, and no grid is held against it.
func TestAmplifyingCathodes(t *testing.T) {
	for name, want := range map[string][]int{"35W4": nil, "50C5": {1}, "12AV6": {2}, "25Z6": nil} {
		tube, _ := setfile.FindTubeType(name)
		if tube == nil {
			t.Fatalf("no type %s", name)
		}
		if got := amplifyingCathodes(tube); !slices.Equal(got, want) {
			t.Errorf("%s: %v, want %v", name, got, want)
		}
	}
}
