package setfile

import (
	_ "embed"
	"sync"

	"coldcheck/netlist"
	"coldcheck/netlist/internal/tomltext"
)

//go:embed lamps.toml
var lampsTOML []byte

// dialLamp is what a lamp's number says: what it is rated for, in volts and amperes.
type dialLamp struct{ volts, amps float64 }

// dialLamps are the lamps that the program knows, by number.
var dialLamps = sync.OnceValue(func() map[string]dialLamp {
	lamps := map[string]dialLamp{}
	root := tomltext.Parse("lamps.toml", lampsTOML).Root
	all, _ := root.Get("lamps")
	t, _ := all.Value.Data.(*netlist.Table)
	for _, e := range t.Entries {
		lamp, _ := e.Value.Data.(*netlist.Table)
		volts, _ := lamp.Get("volts")
		amps, _ := lamp.Get("amps")
		v, _ := volts.Value.Data.(float64)
		a, _ := amps.Value.Data.(float64)
		lamps[e.Key] = dialLamp{v, a}
	}
	return lamps
})
