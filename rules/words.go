package rules

import "coldcheck/rules/phrase"

// What phrase tells, by the names that renderers still call it by.
var (
	FaultWords       = phrase.Fault
	StateWords       = phrase.State
	SettingsWords    = phrase.Settings
	FigureWords      = phrase.Meter
	MeasurementWords = phrase.Measurement
	ExplanationWords = phrase.Explanation
	ApartWords       = phrase.Apart
)
