-- +goose Up
-- One text for SQLite and PostgreSQL. Times are milliseconds since 1970 UTC.
CREATE TABLE job (
  id TEXT PRIMARY KEY,
  revision BIGINT NOT NULL,       -- newest, from 1
  log_cursor BIGINT NOT NULL,     -- of the newest record, 0 none
  link TEXT NOT NULL              -- hash over all records till there
);
CREATE TABLE job_revision (
  job TEXT NOT NULL REFERENCES job (id),
  revision BIGINT NOT NULL,
  document TEXT NOT NULL,
  digest TEXT NOT NULL,
  person TEXT NOT NULL,
  saved BIGINT NOT NULL,
  PRIMARY KEY (job, revision)
);
CREATE TABLE record (
  job TEXT NOT NULL REFERENCES job (id),
  log_cursor BIGINT NOT NULL,
  id TEXT NOT NULL,
  hash TEXT NOT NULL,
  body TEXT NOT NULL,
  PRIMARY KEY (job, log_cursor)
);
CREATE UNIQUE INDEX record_id ON record (job, id);
CREATE TABLE quarantine (
  job TEXT NOT NULL REFERENCES job (id),
  number BIGINT NOT NULL,
  id TEXT NOT NULL,
  hash TEXT NOT NULL,
  body TEXT NOT NULL,
  status TEXT NOT NULL,           -- held, quarantined, accepted
  reason TEXT NOT NULL,
  received BIGINT NOT NULL,
  PRIMARY KEY (job, number)
);
CREATE UNIQUE INDEX quarantine_hash ON quarantine (job, hash);
CREATE TABLE acceptance (
  job TEXT NOT NULL REFERENCES job (id),
  id TEXT NOT NULL,               -- of the record that a foreman lets in
  PRIMARY KEY (job, id)
);
CREATE TABLE receipt (
  job TEXT NOT NULL REFERENCES job (id),
  log_cursor BIGINT NOT NULL,
  link TEXT NOT NULL,
  signed BIGINT NOT NULL,
  signature TEXT NOT NULL,
  PRIMARY KEY (job, log_cursor)
);
CREATE TABLE person (
  id TEXT PRIMARY KEY,
  name TEXT NOT NULL,
  role TEXT NOT NULL,
  language TEXT NOT NULL
);
CREATE TABLE device (
  id TEXT PRIMARY KEY,
  person TEXT NOT NULL REFERENCES person (id),
  name TEXT NOT NULL,
  revoked BIGINT NOT NULL,        -- 0 not
  reason TEXT NOT NULL
);
CREATE TABLE photo (
  digest TEXT PRIMARY KEY,
  size BIGINT NOT NULL,
  media TEXT NOT NULL,
  received BIGINT NOT NULL
);
CREATE TABLE photo_chunk (
  digest TEXT NOT NULL REFERENCES photo (digest),
  number BIGINT NOT NULL,
  data BYTEA NOT NULL,
  PRIMARY KEY (digest, number)
);
CREATE TABLE signing_key (
  id BIGINT PRIMARY KEY,          -- 1
  seed TEXT NOT NULL
);

-- +goose Down
DROP TABLE signing_key;
DROP TABLE photo_chunk;
DROP TABLE photo;
DROP TABLE device;
DROP TABLE person;
DROP TABLE receipt;
DROP TABLE acceptance;
DROP TABLE quarantine;
DROP TABLE record;
DROP TABLE job_revision;
DROP TABLE job;
