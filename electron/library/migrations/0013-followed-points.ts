/** Points that are followed through a clip, and drawings that move with them or with the body. */
export const followedPoints = {
  version: 13,
  name: 'followed-points',
  sql: `
CREATE TABLE followed_track (
  id TEXT PRIMARY KEY NOT NULL,
  media_hash TEXT NOT NULL REFERENCES media (hash) ON DELETE CASCADE,
  frames BLOB NOT NULL,
  points BLOB NOT NULL
) STRICT;
CREATE INDEX followed_track_of_media ON followed_track (media_hash);
CREATE TABLE followed_point (
  id TEXT PRIMARY KEY NOT NULL,
  clip_id TEXT NOT NULL REFERENCES clip (id) ON DELETE CASCADE,
  name TEXT NOT NULL,
  from_frame INTEGER NOT NULL,
  to_frame INTEGER NOT NULL,
  track_id TEXT REFERENCES followed_track (id) ON DELETE SET NULL,
  lost TEXT NOT NULL
) STRICT;
CREATE INDEX followed_point_of_clip ON followed_point (clip_id);
CREATE TABLE follow_mark (
  id TEXT PRIMARY KEY NOT NULL,
  followed_id TEXT NOT NULL REFERENCES followed_point (id) ON DELETE CASCADE,
  frame INTEGER NOT NULL,
  x REAL NOT NULL,
  y REAL NOT NULL
) STRICT;
CREATE UNIQUE INDEX follow_mark_of_point ON follow_mark (followed_id, frame);
ALTER TABLE drawing ADD COLUMN tie TEXT;
`,
} as const
