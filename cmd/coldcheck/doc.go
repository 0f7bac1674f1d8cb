// Coldcheck reads how an old line-connected set is wired and says what in it can hurt a person.
//
// # Exit status
//
// Of inspect: 0 where nothing is at or above --fail-on (default warning), 1 where something is, 2
// for bad use or bad input, also where only one of several files was bad. Of every other command:
// 0 or 2. The status is the same in every format.
//
// # Streams
//
// Results go to standard output, everything else to standard error. A reader that closes the pipe
// early ends the program quietly.
//
// # Limitations
//
// The program sees what the set file describes and nothing else. It never says that a set may be
// touched.
//
// # Layout
//
// commands.go is the table of commands; each command has a file of its own. Words for people are
// made in the package text, JSON in the package jsonout; neither knows the command line.
package main
