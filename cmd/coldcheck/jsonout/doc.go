// Package jsonout is the JSON of the program: UTF-8, two-space indent, no NaN and no infinity, the
// same bytes for the same set. Keys may be added in time, none is renamed.
package jsonout

// Format is the version of the JSON.
const Format = 1
