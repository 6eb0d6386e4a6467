// Package unit holds the quantities of digging to a level as types, reads them
// as people write them and prints them as a crew reads them.
//
// Inside the program a length is metres, a grade is rise over run, an angle is
// radians. Conversion happens only at the edges: the Parse functions on the way
// in, a Style on the way out. A Style rounds once.
//
// Start with ParseLength, ParseSlope and Style; with a Reader where a document
// is known to use the decimal comma. Errors are *ParseError; package phrase has
// the words for them.
package unit
