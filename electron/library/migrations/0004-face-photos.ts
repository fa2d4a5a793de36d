/** Photos of club faces that strikes are read from, with the coach's two marks. */
export const facePhotos = {
  version: 4,
  name: 'face-photos',
  sql: `
CREATE TABLE face_photo (
  id TEXT PRIMARY KEY NOT NULL,
  lesson_id TEXT NOT NULL REFERENCES lesson (id) ON DELETE CASCADE,
  club TEXT,
  picture_id TEXT NOT NULL,
  width INTEGER NOT NULL,
  height INTEGER NOT NULL,
  toe_x REAL,
  toe_y REAL,
  heel_x REAL,
  heel_y REAL,
  length_mm REAL NOT NULL
) STRICT;
CREATE INDEX face_photo_of_lesson ON face_photo (lesson_id);
`,
} as const
