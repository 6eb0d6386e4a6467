-- +goose Up
-- SQLite alone: records lie in their key's own tree, so that an append writes one page for the record and its cursor.
CREATE TABLE record_in_order (
  job TEXT NOT NULL REFERENCES job (id),
  log_cursor BIGINT NOT NULL,
  id TEXT NOT NULL,
  hash TEXT NOT NULL,
  body TEXT NOT NULL,
  PRIMARY KEY (job, log_cursor)
) WITHOUT ROWID;
INSERT INTO record_in_order SELECT job, log_cursor, id, hash, body FROM record ORDER BY job, log_cursor;
DROP TABLE record;
ALTER TABLE record_in_order RENAME TO record;
CREATE UNIQUE INDEX record_id ON record (job, id);

-- +goose Down
CREATE TABLE record_by_row (
  job TEXT NOT NULL REFERENCES job (id),
  log_cursor BIGINT NOT NULL,
  id TEXT NOT NULL,
  hash TEXT NOT NULL,
  body TEXT NOT NULL,
  PRIMARY KEY (job, log_cursor)
);
INSERT INTO record_by_row SELECT job, log_cursor, id, hash, body FROM record ORDER BY job, log_cursor;
DROP TABLE record;
ALTER TABLE record_by_row RENAME TO record;
CREATE UNIQUE INDEX record_id ON record (job, id);
