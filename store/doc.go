// Package store keeps jobs with all their revisions, records, photos, people
// and devices: in one SQLite file, or in a PostgreSQL database that any number
// of servers share. Both run the same migrations and queries.
//
// Open gives a Store. Append acknowledges records after the commit that holds
// them, never before; SaveJob overwrites nothing. Verify checks every chain,
// Backup writes a copy and proves it by restoring it, Export writes open
// formats.
//
// The store does not judge a job document nor who may do what: its caller does.
// Errors that a user can meet carry a *phrase.Fault (errors.As).
package store
