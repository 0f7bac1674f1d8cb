// Package sparse solves linear systems whose matrix has few entries a row, as the nodal equations of a
// set have however large it is. gonum has no factorisation that is sparse, nor a complex one.
package sparse
