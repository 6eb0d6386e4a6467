// Package sheet lays out what a crew reads: the plan, a trace, a cut sheet, a
// clamp strip, stakes, tapes and checks, in a language and its units.
//
// A Sheet is a list of blocks. The command line prints it as text and the page
// as HTML, so that both say the same. Start with Plan.
package sheet
