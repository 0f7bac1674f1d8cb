// Package diagnose says what to measure of a set, and what readings mean.
//
//   - checks.go and checks_hot.go lay out the checklist: cold with the plug out, hot, heaters, with the
//     band in which each reading is right and what would make it read otherwise;
//   - measure.go has what a meter can be asked, and what it is good for;
//   - gauge.go works out what a meter shows of one wiring, with tubes pulled and leads off; prediction.go
//     what it shows while the set plays;
//   - bringing_up.go and playing.go lay out what follows a clean cold check;
//   - explain.go ranks what would explain readings that the wiring cannot give: by likelihood.go, how far
//     they are from what is predicted, and frequency.go, how often such a thing fails; explainer.go knows
//     what every explanation by one thing predicts, figure.go those with a value to find, variant.go
//     and terminals.go the mistakes of wiring, worn.go and wrong_type.go what tubes and capacitors do;
//   - further.go finds the measurement that would tell the leading explanations apart, were.go what
//     would be live if one of them held.
package diagnose
