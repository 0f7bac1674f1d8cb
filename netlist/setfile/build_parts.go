package setfile

import (
	"coldcheck/netlist"
	"coldcheck/netlist/internal/words"
)

// parts reads every part, in the order of the file.
func (b *builder) parts() {
	if n := len(b.doc.Parts); n > netlist.MaxParts {
		b.addf(b.doc.Parts[netlist.MaxParts].Pos, "%d parts are more than the %d that a set file may have; split the file into sets", n, netlist.MaxParts)
		b.doubtful = true
		return
	}
	for i := range b.doc.Parts {
		b.part(&b.doc.Parts[i])
	}
}

func (b *builder) part(w *netlist.WrittenPart) {
	before := b.count()
	defer func() { b.doubtful = b.doubtful || b.count() > before }()
	b.checkPartName(w)
	info := netlist.FindKind(netlist.Kind(w.Kind))
	if info == nil {
		info = b.unknownKind(w)
	}
	if info == nil || info.Kind == netlist.KindCan { // a can that is called otherwise is told, and no more
		return
	}
	r := &partReader{
		b: b, w: w, info: info, keys: w.Keys, quoted: words.Visible(words.Shorten(w.Name)),
		part: &netlist.Part{Name: w.Name, Kind: info.Kind, Pos: w.Pos},
	}
	r.checkKeys()
	r.eitherName()
	r.common()
	r.part.Detail = partBuilders[info.Kind](r)
	r.missing()
	r.frame()
	b.set.AddPart(r.part)
}

// partBuilders read what only one kind has.
var partBuilders = map[netlist.Kind]func(*partReader) netlist.Detail{
	netlist.KindPlug:          buildPlug,
	netlist.KindSwitch:        buildSwitch,
	netlist.KindSelector:      buildSelector,
	netlist.KindFuse:          buildFuse,
	netlist.KindWire:          buildWire,
	netlist.KindResistor:      buildResistor,
	netlist.KindPotentiometer: buildPotentiometer,
	netlist.KindThermistor:    buildThermistor,
	netlist.KindCapacitor:     buildCapacitor,
	netlist.KindCoil:          buildCoil,
	netlist.KindMotor:         buildMotor,
	netlist.KindLamp:          buildLamp,
	netlist.KindTransformer:   buildTransformer,
	netlist.KindTube:          buildTube,
	netlist.KindRectifier:     buildRectifier,
	netlist.KindBattery:       buildBattery,
	netlist.KindInsulation:    buildInsulation,
}

func (b *builder) checkPartName(w *netlist.WrittenPart) {
	switch {
	case w.Name == netlist.SupplyName:
		b.addf(w.Pos, "a part cannot be called supply, which is the mains itself; call it PL1, say")
	case !netlist.IsPartName(w.Name):
		b.addf(w.Pos, "%s is not a part's name; use 1 to 32 letters, digits, _ and -, like R12", words.Quote(w.Name))
	}
}
