// Package safety holds the rules of digging as data and judges a site by them:
// Limits before planning, Findings after it.
//
// Rules gathers a rule set and a job's overrides into a Book. Limits turns a
// Book and what is known of the site into set-backs, hand-dig zones, allowed
// slopes and clearances that planning obeys. Findings reads the facts of a plan
// or a record and returns judgements; it never changes a plan. Release and
// InHole say what a competent person's entry opens.
//
// Whatever is not known is taken at its worst and is a finding of its own. A
// figure's mark says how well it is known: those read by others say so in every
// finding, those only recalled are off until a job switches them on with a
// source. The advice is for planning only: local codes, the utility owner and a
// competent person on site decide.
//
// Depths, heights and distances are positive; a slope is horizontal over
// vertical, 0 vertical. A nil pointer, a NaN and the zero Answer mean unknown.
package safety
