// Package exchange reads and writes the files others use. Its readers are
// pure: bytes in, data or a fault with its place out.
package exchange
