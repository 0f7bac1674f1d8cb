package setfile

import (
	"testing"

	"coldcheck/netlist/internal/filetest"
)

// TestContentOf tells plans from set files, those that are no TOML too.
func TestContentOf(t *testing.T) {
	for text, want := range map[string]Content{
		"": ContentUnknown, "plan = \"x\"": ContentPlan, "[[steps]]\ndo = \"fit\"": ContentPlan, filetest.BenchHead: ContentSet,
		"plan = \"x\n[[steps]]": ContentPlan, "[set]\nname = \"x\n": ContentSet, "[capacitors]\n": ContentSet, "a = 1": ContentUnknown,
		// An old encoding, of which nothing is read but the lines.
		"# \xb5\n[set]\n": ContentSet, "# \xb5\n [ nodes ]\n": ContentSet, "# \xb5\n[parts]\nplan = 1\n": ContentSet, "# \xb5\nplan = \"x\"\n[set]": ContentPlan, "# \xb5\n[[ steps ]]": ContentPlan, "# \xb5\n": ContentUnknown,
	} {
		if got := ContentOf([]byte(text)); got != want {
			t.Errorf("%q is told as %d, want %d", text, got, want)
		}
	}
}
