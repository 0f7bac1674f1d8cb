// Package rules says what the wiring means for a person: which findings a set gives, why each
// matters, what to do and what to take care of.
//
// A rule is a value: its name, its signal word, its words for a person, and a function that looks
// at a Case. One rule, one file; All is the one list of them, in the order in which they take
// precedence: where two rules would tell one thing about one point, the stronger takes it, among
// equals the earlier.
//
// Check makes a Case of a set and an examination, runs every rule on it, and gives the findings
// strongest first, then by node, then by rule.
package rules
