package analysis

import (
	"coldcheck/analysis/internal/charge"
	"coldcheck/analysis/internal/circuit"
	"coldcheck/analysis/internal/nodal"
	"coldcheck/analysis/internal/search"
	"coldcheck/analysis/internal/topology"
)

// The states of a set, and what goes wrong in it.
type (
	Bench       = circuit.Bench
	Control     = circuit.Control
	Switch      = circuit.Switch
	Fault       = circuit.Fault
	FaultKind   = circuit.FaultKind
	Polarity    = circuit.Polarity
	Setting     = circuit.Setting
	State       = circuit.State
	TouchPoint  = circuit.TouchPoint
	UnknownNode = circuit.UnknownNode
)

// The wiring of a state.
type (
	Channel = topology.Channel
	Path    = topology.Path
	Query   = topology.Query
	Sort    = topology.Sort
	Step    = topology.Step
	Wiring  = topology.Wiring
)

// What is solved, read and found.
type (
	Class       = nodal.Class
	Count       = search.Count
	FaultSet    = search.FaultSet
	Filter      = search.Filter
	Flow        = nodal.Flow
	Options     = search.Options
	Sought      = search.Sought
	PairResult  = search.PairResult
	PointResult = search.PointResult
	Reading     = nodal.Reading
	Reduced     = search.Reduced
	Row         = search.Row
	Solution    = nodal.Solution
	Standing    = charge.Standing
	Stored      = charge.Stored
	Stress      = charge.Stress
	TooLarge    = search.TooLarge
	Touch       = nodal.Touch
	Worst       = search.Worst
)

// The plug's polarities, the kinds of fault, the names that stand for the supply and for the small diodes,
// and where a control stands that is not at one of its ends.
const (
	AsMarked = circuit.AsMarked
	Reversed = circuit.Reversed

	Shorted       = circuit.Shorted
	InsulationOut = circuit.InsulationOut
	HeaterCathode = circuit.HeaterCathode
	Open          = circuit.Open
	Pulled        = circuit.Pulled
	Stuck         = circuit.Stuck
	NeutralLost   = circuit.NeutralLost
	EarthLost     = circuit.EarthLost
	GuardOff      = circuit.GuardOff

	SupplyName  = circuit.SupplyName
	SmallDiodes = circuit.SmallDiodes

	Middle = circuit.Middle
	Full   = circuit.Full
	Zero   = circuit.Zero
)

// The sorts of channel, the classes of a reading, how far is searched.
const (
	Conductor  = topology.Conductor
	Load       = topology.Load
	Rectifying = topology.Rectifying
	Capacitive = topology.Capacitive
	Resistive  = topology.Resistive
	Insulating = topology.Insulating

	DrawPiece = topology.DrawPiece

	UnderLimit = nodal.UnderLimit
	Startles   = nodal.Startles
	Live       = nodal.Live

	None          = search.None
	DefaultFaults = search.DefaultFaults
	MostFaults    = search.MostFaults
)

// What texts quote of the model's constants; circuit has them all, with their sources.
const (
	BuildingOhms  = circuit.BuildingOhms
	ClearedAmps   = circuit.ClearedAmps
	MeterOhms     = circuit.MeterOhms
	OpenOhms      = circuit.OpenOhms
	SafeguardOhms = circuit.SafeguardOhms
	WindingOhms   = circuit.WindingOhms

	HotCheckFarads = circuit.HotCheckFarads
	HotCheckOhms   = circuit.HotCheckOhms
	HotCheckVolts  = circuit.HotCheckVolts

	ES1AmpsAC  = circuit.ES1AmpsAC
	ES1AmpsDC  = circuit.ES1AmpsDC
	ES2VoltsAC = circuit.ES2VoltsAC
	ES2VoltsDC = circuit.ES2VoltsDC
	ES2AmpsAC  = circuit.ES2AmpsAC
	ES2AmpsDC  = circuit.ES2AmpsDC

	StoredVolts       = charge.StoredVolts
	BladeSecondsLimit = charge.BladeSecondsLimit
)

// Reservoir reports whether a capacitor holds its voltage while a rectifier conducts.
func Reservoir(farads float64) bool { return circuit.Reservoir(farads) }
