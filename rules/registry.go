package rules

// All is every rule, in the order in which they take precedence.
var All = []*Rule{
	PolarityOnly,
	HotChassis,
	LiveThroughLoad,
	EarthedLine,
	LineShort,
	TouchCurrent,
	LiveBetween,
	BehindGuard,
	OneCapacitor,
	OneInsulation,
	OneResistor,
	OneFault,
}
