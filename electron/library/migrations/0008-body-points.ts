/** Body points of a clip's pictures, found by a model, and those that the coach set by hand. */
export const bodyPoints = {
  version: 8,
  name: 'body-points',
  sql: `
CREATE TABLE body_points (
  media_hash TEXT PRIMARY KEY NOT NULL REFERENCES media (hash) ON DELETE CASCADE,
  model TEXT NOT NULL,
  frames BLOB NOT NULL,
  points BLOB NOT NULL,
  read_at TEXT NOT NULL
) STRICT;
CREATE TABLE body_correction (
  id TEXT PRIMARY KEY NOT NULL,
  clip_id TEXT NOT NULL REFERENCES clip (id) ON DELETE CASCADE,
  frame INTEGER NOT NULL,
  joint TEXT NOT NULL,
  x REAL NOT NULL,
  y REAL NOT NULL
) STRICT;
CREATE UNIQUE INDEX body_correction_of_clip ON body_correction (clip_id, frame, joint);
`,
} as const
