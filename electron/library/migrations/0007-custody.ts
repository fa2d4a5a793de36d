/**
 * Who does a job, who takes a clip in, whose clips they are, which backups there are, and how far the library has come: the
 * same number stands in a file beside the database, so that an older database is seen for what it is.
 */
export const custody = {
  version: 7,
  name: 'custody',
  sql: `
ALTER TABLE job ADD COLUMN owner TEXT;
ALTER TABLE job ADD COLUMN attempts INTEGER NOT NULL DEFAULT 0;

CREATE TABLE media_claim (
  hash TEXT PRIMARY KEY NOT NULL,
  job_id TEXT NOT NULL,
  owner TEXT NOT NULL
) STRICT;

CREATE TABLE media_student (
  hash TEXT NOT NULL REFERENCES media (hash) ON DELETE CASCADE,
  student_id TEXT NOT NULL REFERENCES student (id) ON DELETE CASCADE,
  PRIMARY KEY (hash, student_id)
) STRICT;
INSERT INTO media_student SELECT DISTINCT c.media_hash, l.student_id FROM clip c JOIN lesson l ON l.id = c.lesson_id;
CREATE TRIGGER clip_belongs_to_student AFTER INSERT ON clip BEGIN
  INSERT OR IGNORE INTO media_student SELECT NEW.media_hash, student_id FROM lesson WHERE id = NEW.lesson_id;
END;

CREATE TABLE backup (
  id TEXT PRIMARY KEY NOT NULL,
  file TEXT NOT NULL,
  made_at TEXT NOT NULL,
  byte_length INTEGER NOT NULL
) STRICT;

CREATE TABLE library_mark (
  id TEXT PRIMARY KEY NOT NULL,
  sequence INTEGER NOT NULL
) STRICT;
`,
} as const
