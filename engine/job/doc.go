// Package job reads the job document: the TOML file a foreman writes, with the
// tables beside it, into typed values in the local frame. It is strict: an
// unknown key, a bad unit or a doubled id is a *phrase.Fault with the place,
// what was read, the rule and the remedy.
//
// Call Parse, read the tables that Document.Files names, then Decode. Nothing
// is planned here; package plan takes the Job.
package job
