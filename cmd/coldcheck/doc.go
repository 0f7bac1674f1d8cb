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
// run.go makes the program of its commands, by cobra; each command has a file of its own with its
// texts and flags. call.go is one use of a command, options.go the flags that several have, and what
// is said of a wrong one. Below: flags has what flags take, slip guesses the word that was meant,
// usage renders help, output is where results go. Words for people are made in the package text, JSON
// in the package jsonout, pages in page; none of them knows the command line.
package main
