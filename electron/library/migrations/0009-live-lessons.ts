/** Lessons that take in what arrives: what they watch, and which states of which files are not to be taken (again). */
export const liveLessons = {
  version: 9,
  name: 'live-lessons',
  sql: `
CREATE TABLE live_lesson (
  lesson_id TEXT PRIMARY KEY NOT NULL REFERENCES lesson (id) ON DELETE CASCADE,
  clips_folder TEXT NOT NULL,
  shots_path TEXT,
  is_on INTEGER NOT NULL
) STRICT;
CREATE TABLE live_file (
  lesson_id TEXT NOT NULL REFERENCES live_lesson (lesson_id) ON DELETE CASCADE,
  key TEXT NOT NULL,
  PRIMARY KEY (lesson_id, key)
) STRICT;
`,
} as const
