package settest

import (
	"flag"
	"strconv"
	"testing"

	"pgregory.net/rapid"
)

// Check runs a property that many times instead of a hundred.
func Check(t *testing.T, times int, property func(*rapid.T)) {
	t.Helper()
	checks := flag.Lookup("rapid.checks").Value
	old := checks.String()
	if old != "100" {
		rapid.Check(t, property)
		return
	}
	if err := checks.Set(strconv.Itoa(times)); err != nil {
		t.Fatal(err)
	}
	defer func() {
		if err := checks.Set(old); err != nil {
			t.Fatal(err)
		}
	}()
	rapid.Check(t, property)
}
