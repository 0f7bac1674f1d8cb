// Package examples holds the set files and the plans that the program brings along: whole sets with all
// that a person would find on the line side, and for some of them a plan of rework.
//
// The set files stand in this folder, the plans in plans; examples.go embeds and finds them. A file that is
// put here is an example, and the tests pick it up.
package examples
