// Package output is where results go: standard output, whose reader may go away, or a file, which
// appears whole or not at all, overwrites nothing unasked and is not left half written by an
// interrupt.
package output
