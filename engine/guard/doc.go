// Package guard watches the beams of a job by its log. It turns what replay makes
// of the records (package record) into what package watch judges: the readings of
// each set-up, when which dig was dug, what stopped the laser, and what this laser
// does when it is bumped. Beams gives the verdict on each tag with what to do in
// words and the next close that is due; Trends the bias and spread of machine and
// operator; Prove the as-built points, judged again where their beam had moved.
//
// The two it joins know nothing of each other: watch is a leaf with input types of
// its own, and record's verdicts rest on the order of records alone. Nothing here
// makes anything good that the log does not: a tag has numbers only where both say
// so, and a dig that the log holds for unclosed is unclosed here.
package guard
