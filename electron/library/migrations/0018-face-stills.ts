/** A photo of a club's face is a still picture of its lesson; `picture_id` is of photos that were kept before there were stills. */
export const faceStills = {
  version: 18,
  name: 'face-stills',
  sql: `
CREATE TABLE face_photo_now (
  id TEXT PRIMARY KEY NOT NULL,
  lesson_id TEXT NOT NULL REFERENCES lesson (id) ON DELETE CASCADE,
  club TEXT,
  clip_id TEXT REFERENCES clip (id) ON DELETE CASCADE,
  picture_id TEXT,
  width INTEGER NOT NULL,
  height INTEGER NOT NULL,
  toe_x REAL,
  toe_y REAL,
  heel_x REAL,
  heel_y REAL,
  length_mm REAL NOT NULL
) STRICT;
INSERT INTO face_photo_now (id, lesson_id, club, picture_id, width, height, toe_x, toe_y, heel_x, heel_y, length_mm)
  SELECT id, lesson_id, club, picture_id, width, height, toe_x, toe_y, heel_x, heel_y, length_mm FROM face_photo;
DROP TABLE face_photo;
ALTER TABLE face_photo_now RENAME TO face_photo;
CREATE INDEX face_photo_of_lesson ON face_photo (lesson_id);
CREATE INDEX face_photo_of_clip ON face_photo (clip_id);
`,
} as const
