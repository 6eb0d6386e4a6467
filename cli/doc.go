// Package cli is the command line: one file a command. Run reads the arguments
// and gives the exit status; nothing else exits.
package cli
