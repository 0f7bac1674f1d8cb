package setfile_test

import (
	"testing"

	"coldcheck/netlist"
	"coldcheck/netlist/settest"
)

// What an ohmmeter shows of nothing that conducts is written as it stands on the meter.
func TestOhmsMayReadOpen(t *testing.T) {
	_, most := netlist.Ohm.Range()
	for text, want := range map[string]float64{`"open"`: most, `"OL"`: most, `"O.L."`: most, `" Open "`: most, `"1.2M"`: 1.2e6, `0`: 0} {
		set := settest.Load(t, settest.With("C9 = { kind = \"capacitor\", ends = [\"N\", \"chassis\"], value = \"1 nF\" }\n", "chassis")+
			"[[readings]]\nat = [\"N\", \"chassis\"]\nohms = "+text+"\n")
		if got := set.Readings[0].Value; got != want {
			t.Errorf("ohms = %s is read as %g, want %g", text, got, want)
		}
	}
}
