// Package record puts together what is kept of a job on a set, for its owner and for the shop: the set as it
// was found, what was done to it, what was read on it, how it is now, and what its owner has to know.
//
// record.go holds the set before against the set now; steps.go tells what was done, of a plan or of what two
// files have different; readings.go what was read and what is still to be read. owner.go has every word for
// the owner, chosen by what remains. Whoever prints a record decides nothing.
package record
