package setfile

import (
	"fmt"

	"coldcheck/netlist"
)

func buildSwitch(r *partReader) netlist.Detail {
	d := &netlist.Switch{}
	r.oneOf("ends", "poles")
	if r.has("ends") {
		d.Poles = append(d.Poles, r.ends())
	}
	e, ok := r.keys.Get("poles")
	if !ok {
		return d
	}
	poles, ok := e.Value.Data.([]netlist.Value)
	switch {
	case !ok || len(poles) == 0:
		r.addf(e.Value.Pos, "poles of %s is %s; write a list of poles, like %s", r.quoted, emptyOr(e.Value), r.info.Key("poles").Example)
		return d
	case len(poles) > netlist.MaxPoles:
		r.addf(e.Value.Pos, "%s has %d poles, more than the %d that a switch may have", r.quoted, len(poles), netlist.MaxPoles)
		return d
	}
	if _, flat := poles[0].Data.(string); flat {
		r.addf(e.Value.Pos, "poles of %s is a list of points; put each pole's two points in brackets of their own, like %s",
			r.quoted, r.info.Key("poles").Example)
		return d
	}
	for i, p := range poles {
		name := fmt.Sprintf("pole %d", i+1)
		d.Poles = append(d.Poles, r.pair(p, name+" of "+r.quoted, name+" end 1", name+" end 2"))
	}
	return d
}
