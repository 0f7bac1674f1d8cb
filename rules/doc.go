// Package rules says what the wiring means for a person: which findings a set gives, why each
// matters, what to do and what to take care of.
//
// A rule is a value: its name, its signal word, its words for a person, what it is (Subject, Live,
// Failure, Current, Stress), and a function from Facts to findings. One rule, one file; All is the one
// list of them, in the order in which they take precedence.
//
// Facts are what the rules ask of a case: its pieces of accessible metal (case_metal.go), how each is
// live (case_live.go) and through what (case_path.go), the two line conductors and what stands between the
// line and a hand (package lineside has them, case_mains.go the words), which one failure makes metal live
// (case_one_failure.go). They are worked out once, before the first rule runs, and no rule changes them or
// sees what another has found. What several rules share stands in files that begin with case_. What the
// wiring alone tells is for the packages below analysis to find.
//
// Check examines a set, works out the facts, runs every rule on them, and gives the findings strongest
// first, then by node, then by rule. The words that reports and pages use too are those of phrase.
package rules
