// Package stands decides where the machine stands and in which order it works.
//
// Route is the order of least travel among places; it knows nothing of ground
// or digs and takes the cost of travel between each two.
package stands
