package netlist

import "testing"

// A set that was worked on is named so once, and no more says that it is as it was found.
func TestRename(t *testing.T) {
	for old, want := range map[string]string{
		"Kitchen set":               "Kitchen set, reworked",
		"Kitchen set, as found":     "Kitchen set, reworked",
		"Kitchen set (As Found)":    "Kitchen set, reworked",
		"Kitchen set as found, red": "Kitchen set, red, reworked",
		"Kitchen set, reworked":     "Kitchen set, reworked",
		"as found":                  "reworked",
		"":                          "reworked",
		"Has foundry mark":          "Has foundry mark, reworked",
	} {
		d := &Document{Header: Keys("name", old)}
		d.Rename("")
		if e, _ := d.Header.Get("name"); e.Value.Data != want {
			t.Errorf("%q becomes %q, want %q", old, e.Value.Data, want)
		}
	}
	d := &Document{}
	d.Rename("Shelf set")
	if e, _ := d.Header.Get("name"); e.Value.Data != "Shelf set" {
		t.Errorf("a name that is given is %q", e.Value.Data)
	}
}
