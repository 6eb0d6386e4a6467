// Package cab is the job as a page holds it: opened from a bundle and its
// records, planned with the set-ups that the log made, asked for what a screen
// shows and for the records that a person's words become. Everything it gives is
// ready to be shown: texts in the language asked for, figures set, drawings as
// display lists. Start at Engine, which answers requests as JSON.
package cab
