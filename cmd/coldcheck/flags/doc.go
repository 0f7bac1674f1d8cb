// Package flags holds the values that the flags of the commands take. What a value says where a word
// does not fit is what would be right.
package flags
