// Package record holds what happened on site and what it says of the digs.
//
// A Record is one entry of the log: an envelope and a Payload of one Kind.
// Head.Next makes a device's next one from a time and random bytes that the
// caller gives; Append writes its one canonical form and Decode reads nothing
// else. Verify walks the chain of every device. Replay turns records, in any
// order of arrival, into a State.
//
// Judge turns shots under a set-up into heights and deviations from the plan.
//
// Quantities are SI. Times are milliseconds since 1970 UTC; no meaning rests on
// a device's clock: see Replay.
package record
