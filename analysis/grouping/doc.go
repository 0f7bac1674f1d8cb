// Package grouping puts states together that read alike, so that a table of thousands can be told in
// a few lines: table.go the rows of the table of states that stand in the same band of the limits at
// every touch point, space.go the settings among them that are all the combinations of some plug
// polarities, positions and rectifiers.
package grouping
