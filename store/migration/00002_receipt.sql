-- +goose Up
-- A receipt rests on all before it by its link, so the newest alone is kept, in the job's row: an append writes one page less.
ALTER TABLE job ADD COLUMN signed BIGINT NOT NULL DEFAULT 0;  -- when the newest receipt was signed
ALTER TABLE job ADD COLUMN signature TEXT NOT NULL DEFAULT '';
UPDATE job SET
  signed = COALESCE((SELECT r.signed FROM receipt r WHERE r.job = job.id AND r.log_cursor = job.log_cursor), 0),
  signature = COALESCE((SELECT r.signature FROM receipt r WHERE r.job = job.id AND r.log_cursor = job.log_cursor), '');
DROP TABLE receipt;

-- +goose Down
CREATE TABLE receipt (
  job TEXT NOT NULL REFERENCES job (id),
  log_cursor BIGINT NOT NULL,
  link TEXT NOT NULL,
  signed BIGINT NOT NULL,
  signature TEXT NOT NULL,
  PRIMARY KEY (job, log_cursor)
);
INSERT INTO receipt SELECT id, log_cursor, link, signed, signature FROM job WHERE log_cursor > 0;
ALTER TABLE job DROP COLUMN signature;
ALTER TABLE job DROP COLUMN signed;
