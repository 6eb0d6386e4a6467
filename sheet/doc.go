// Package sheet lays out what a crew reads: the plan, a trace, a cut sheet, a
// clamp strip, stakes, tapes and checks, in a language and its units; and puts
// them on paper.
//
// A Sheet is a list of blocks. The command line prints it as text and the page
// as HTML, so that both say the same. Start with Plan. Book makes the pages of a
// job, each a display list of package draw; PDF, PageSVG and PNG write them, with
// texts measured by draw.Width, so that what fits in one fits in all.
package sheet
