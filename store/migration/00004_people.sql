-- +goose Up
-- People with what they may do, how they prove who they are, and their sessions.
-- Secrets are kept as hashes. Times are milliseconds since 1970 UTC, 0 not.
CREATE TABLE person_role (
  person TEXT NOT NULL REFERENCES person (id),
  job TEXT NOT NULL,              -- '' every job
  role TEXT NOT NULL,
  granted BIGINT NOT NULL,
  ended BIGINT NOT NULL,
  PRIMARY KEY (person, job, role)
);
INSERT INTO person_role (person, job, role, granted, ended) SELECT id, '', role, 0, 0 FROM person;
CREATE TABLE account (
  person TEXT PRIMARY KEY REFERENCES person (id),
  handle TEXT NOT NULL UNIQUE,    -- what passkeys know the person by: chance
  password TEXT NOT NULL          -- argon2id, '' none
);
CREATE TABLE passkey (
  id TEXT PRIMARY KEY,
  person TEXT NOT NULL REFERENCES person (id),
  device TEXT NOT NULL,           -- it was made on
  body TEXT NOT NULL,
  made BIGINT NOT NULL
);
CREATE TABLE invitation (
  token TEXT PRIMARY KEY,         -- SHA-256
  id TEXT NOT NULL UNIQUE,
  person TEXT NOT NULL,           -- '' who comes tells it
  job TEXT NOT NULL,
  roles TEXT NOT NULL,            -- by commas
  made BIGINT NOT NULL,
  made_by TEXT NOT NULL,
  ends BIGINT NOT NULL,
  used BIGINT NOT NULL
);
CREATE TABLE session (
  token TEXT PRIMARY KEY,         -- SHA-256
  id TEXT NOT NULL UNIQUE,
  device TEXT NOT NULL REFERENCES device (id),
  person TEXT NOT NULL REFERENCES person (id),
  started BIGINT NOT NULL,
  seen BIGINT NOT NULL,
  ended BIGINT NOT NULL
);
CREATE TABLE session_person (
  session TEXT NOT NULL REFERENCES session (id),
  person TEXT NOT NULL REFERENCES person (id),
  signed BIGINT NOT NULL,         -- when the person last proved who it is
  PRIMARY KEY (session, person)
);
CREATE TABLE ceremony (
  id TEXT PRIMARY KEY,            -- SHA-256
  body TEXT NOT NULL,
  ends BIGINT NOT NULL
);
CREATE TABLE rate (
  name TEXT NOT NULL,             -- SHA-256 of what is counted
  ends BIGINT NOT NULL,           -- of the window
  count BIGINT NOT NULL,
  PRIMARY KEY (name, ends)
);
CREATE TABLE audit (
  number BIGINT PRIMARY KEY,
  at BIGINT NOT NULL,
  by_whom TEXT NOT NULL,
  action TEXT NOT NULL,
  job TEXT NOT NULL,              -- '' every job
  person TEXT NOT NULL,
  detail TEXT NOT NULL
);

-- +goose Down
DROP TABLE audit;
DROP TABLE rate;
DROP TABLE ceremony;
DROP TABLE session_person;
DROP TABLE session;
DROP TABLE invitation;
DROP TABLE passkey;
DROP TABLE account;
DROP TABLE person_role;
