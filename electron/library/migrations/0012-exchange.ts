/** Lesson files that were written for colleagues, and which lessons and students came out of one. */
export const exchange = {
  version: 12,
  name: 'exchange',
  sql: `
CREATE TABLE given_file (
  id TEXT PRIMARY KEY NOT NULL,
  student_id TEXT NOT NULL REFERENCES student (id) ON DELETE CASCADE,
  lesson_ids TEXT NOT NULL,
  file TEXT NOT NULL,
  byte_length INTEGER NOT NULL,
  written_at TEXT NOT NULL
) STRICT;
CREATE INDEX given_file_of_student ON given_file (student_id);

CREATE TABLE taken_student (
  student_id TEXT NOT NULL REFERENCES student (id) ON DELETE CASCADE,
  origin_id TEXT NOT NULL,
  given_by TEXT NOT NULL,
  taken_at TEXT NOT NULL,
  is_new INTEGER NOT NULL,
  PRIMARY KEY (student_id, origin_id)
) STRICT;
CREATE INDEX taken_student_of_origin ON taken_student (origin_id);

CREATE TABLE taken_lesson (
  lesson_id TEXT PRIMARY KEY NOT NULL REFERENCES lesson (id) ON DELETE CASCADE,
  origin_id TEXT NOT NULL,
  content_hash TEXT NOT NULL,
  bare_hash TEXT NOT NULL,
  written_at TEXT NOT NULL
) STRICT;
CREATE INDEX taken_lesson_of_origin ON taken_lesson (origin_id);
`,
} as const
