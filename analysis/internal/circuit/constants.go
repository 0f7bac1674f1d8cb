package circuit

import "math"

// What the model takes parts and supplies to be. They are conventions: two implementations that
// share them agree; none is a measured value of a set. Where a convention leans to one side it is the
// side of more current: a supply and a short without resistance to speak of, a rectifier that conducts
// all the time, an earth rod good enough to pass what a hand would not survive and too poor to trip a
// breaker.
const (
	SupplyOhms     = 0.1   // Ω, each side of the supply, and the plug's earth contact
	BuildingOhms   = 25.0  // Ω, a rod or a pipe to earth: trips no breaker
	EarthedOhms    = 0.1   // Ω, an instrument's earthed lead
	MinimumSiemens = 1e-10 // S, every joined node to earth, so that the equations have a solution
	ShortOhms      = 0.01  // Ω, a short, whatever the part
	BatteryOhms    = 1.0   // Ω
	TubeOhms       = 100.0 // Ω, a rectifying section of a tube that conducts
	DryOhms        = 5.0   // Ω, a dry rectifier that conducts
	SmallOhms      = 1e3   // Ω, a small diode or a grid that conducts
	IsolatedFarad  = 1e-9  // F, each side of an isolated supply to earth (interwinding capacitance)

	MagnetisingAmps = 0.05 // A rms, in a transformer's first winding at its rated volts
	WindingOhms     = 10.0 // Ω, a winding of HighWinding volts and more, and an uncoupled one
	LowWindingOhms  = 0.05 // Ω, a winding below that
	HighWinding     = 50.0 // V rms

	// SafeguardOhms: 120 V through 10 kΩ is 12 mA. Below it a resistor keeps no one from harm, so that
	// its breaking down changes nothing; from it up its short is a fault that is looked at.
	SafeguardOhms = 10e3 // Ω
	// ReservoirFarad: a capacitor from here up holds its voltage while a rectifier conducts. At 60 Hz
	// 5 µF is 530 Ω, small against what a set draws.
	ReservoirFarad = 5e-6 // F
	// ClearedAmps in either side of the supply, AC: a breaker of 15 or 20 A opens.
	ClearedAmps = 20.0 // A

	// TurnedOhms is what is left of a control on the side to which it is turned.
	TurnedOhms = ShortOhms // Ω

	// JoinOhms stands for a conductor that may open or close (a fuse, a pole or a deck that sticks, an
	// earth wire): small against SupplyOhms, large enough that two of them side by side share a current.
	JoinOhms = 1e-6 // Ω
)

// The unplugged set, as an ohmmeter finds it.
const (
	ColdHeater = 1.0 / 6 // a cold heater's ohms against its hot ohms
	// OpenOhms: above this a cold path counts as none.
	OpenOhms = 1e9 // Ω
	// UnpluggedSiemens keeps every node's equation solvable: far above OpenOhms, and no leakage of a
	// set.
	UnpluggedSiemens = 1e-12 // S
	// UnpluggedJoinOhms is JoinOhms where UnpluggedSiemens is the least conductance: the ratio of the
	// two bounds the digits that are left.
	UnpluggedJoinOhms = 1e-3 // Ω
)

// How a point is measured.
const (
	MeterOhms = 10e6 // Ω, a digital voltmeter

	// The unweighted touch-current network of IEC 60990:2016 figure 3: the inside of a body, in series with
	// its skin.
	BodyOhms   = 500.0               // Ω
	SkinOhms   = 1500.0              // Ω, …
	SkinFarads = 0.22e-6             // … parallel 0.22 µF
	BodyDCOhms = BodyOhms + SkinOhms // Ω, the network at DC

	HotCheckOhms   = 1500.0  // Ω, service practice: 1.5 kΩ …
	HotCheckFarads = 0.15e-6 // F, … parallel 0.15 µF
	HotCheckVolts  = 0.75    // V across it is 0.5 mA
)

// The yardstick: IEC 62368-1 table 4, steady state. A source exceeds a class only where it
// exceeds the voltage limit and the current limit, AC and DC taken together.
const (
	ES1VoltsAC = 30.0 // V rms
	ES1VoltsDC = 60.0 // V
	ES1AmpsAC  = 0.5  // mA rms
	ES1AmpsDC  = 2.0  // mA
	ES2VoltsAC = 50.0
	ES2VoltsDC = 120.0
	ES2AmpsAC  = 5.0
	ES2AmpsDC  = 25.0
)

// AtLimitShare is how near a figure stands to a limit to be told as at the limit: within a fifth,
// for mains and capacitors have tolerances.
const AtLimitShare = 0.8

// BodyImpedance is the touch-current network of IEC 60990, in Ω at omega rad/s.
func BodyImpedance(omega float64) complex128 {
	return BodyOhms + 1/complex(1/SkinOhms, omega*SkinFarads)
}

// HotCheckImpedance is the hot check's 1.5 kΩ parallel 0.15 µF, in Ω at omega rad/s.
func HotCheckImpedance(omega float64) complex128 {
	return 1 / complex(1/HotCheckOhms, omega*HotCheckFarads)
}

func omegaOf(hertz float64) float64 { return 2 * math.Pi * hertz }
