// Package phrase carries what the program says as a key with typed arguments
// and turns it into English or Spanish at the edge.
//
// The engine builds a Message; the command line, the page and the sheets call
// Render with a language and a unit.Style, so that all three say the same.
// Texts lie in text/<language>/<room>.txt, one "key = text" a line.
package phrase
