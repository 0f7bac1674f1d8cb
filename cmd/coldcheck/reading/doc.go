// Package reading is one reading of a meter as a person types it into a field of the checklist: how a figure is
// read, how it stands to what is right there, which parts would make it so, and how a set file has it. The live
// bench judges here; a page that opens from disk carries along what its script needs to judge alike.
package reading
