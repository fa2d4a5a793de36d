/** The coach's own pictures and clips: a logo, what a drill looks like. */
export const coachPictures = {
  version: 3,
  name: 'coach-pictures',
  sql: `
CREATE TABLE coach_picture (
  id TEXT PRIMARY KEY NOT NULL,
  kind TEXT NOT NULL CHECK (kind IN ('picture', 'clip')),
  extension TEXT NOT NULL,
  width INTEGER NOT NULL,
  height INTEGER NOT NULL,
  byte_length INTEGER NOT NULL,
  added_at TEXT NOT NULL
) STRICT;
ALTER TABLE drill ADD COLUMN picture_id TEXT;
`,
} as const
