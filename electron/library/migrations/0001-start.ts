/** The first schema. A shipped step never changes; the next change is a new file. */
export const start = {
  version: 1,
  name: 'start',
  sql: `
CREATE TABLE student (
  id TEXT PRIMARY KEY NOT NULL,
  name TEXT NOT NULL,
  side TEXT NOT NULL CHECK (side IN ('right', 'left')),
  is_minor INTEGER NOT NULL DEFAULT 0,
  limits TEXT NOT NULL DEFAULT '',
  note TEXT NOT NULL DEFAULT '',
  units TEXT NOT NULL DEFAULT 'mph-yd',
  consent TEXT NOT NULL,
  created_at TEXT NOT NULL
) STRICT;

CREATE TABLE lesson (
  id TEXT PRIMARY KEY NOT NULL,
  student_id TEXT NOT NULL REFERENCES student (id) ON DELETE CASCADE,
  date TEXT NOT NULL,
  title TEXT NOT NULL DEFAULT '',
  place TEXT NOT NULL DEFAULT '',
  note TEXT NOT NULL DEFAULT '',
  next_focus TEXT NOT NULL DEFAULT '',
  temperature_c REAL,
  pressure_hpa REAL,
  altitude_m REAL,
  humidity_percent REAL,
  mic_distance_m REAL NOT NULL,
  clock TEXT
) STRICT;
CREATE INDEX lesson_of_student ON lesson (student_id, date);

CREATE TABLE lesson_revision (
  lesson_id TEXT PRIMARY KEY NOT NULL REFERENCES lesson (id) ON DELETE CASCADE,
  revision INTEGER NOT NULL DEFAULT 0
) STRICT;

CREATE TABLE media (
  hash TEXT PRIMARY KEY NOT NULL,
  extension TEXT NOT NULL,
  byte_length INTEGER NOT NULL,
  codec TEXT NOT NULL,
  width INTEGER NOT NULL,
  height INTEGER NOT NULL,
  rotation_deg REAL NOT NULL,
  frame_count INTEGER NOT NULL,
  duration_seconds REAL NOT NULL,
  playback_rate REAL NOT NULL,
  has_variable_rate INTEGER NOT NULL,
  recorded_at TEXT,
  camera_tag TEXT,
  has_sound INTEGER NOT NULL,
  has_proxy INTEGER NOT NULL,
  timestamps BLOB NOT NULL,
  peaks BLOB,
  peak_bin_seconds REAL NOT NULL,
  added_at TEXT NOT NULL
) STRICT;

CREATE TABLE clip (
  id TEXT PRIMARY KEY NOT NULL,
  lesson_id TEXT NOT NULL REFERENCES lesson (id) ON DELETE CASCADE,
  media_hash TEXT NOT NULL REFERENCES media (hash),
  file_name TEXT NOT NULL,
  capture_rate REAL NOT NULL,
  capture_rate_how TEXT NOT NULL,
  camera TEXT NOT NULL,
  tilt_deg REAL NOT NULL DEFAULT 0,
  pixels_per_meter REAL,
  brightness REAL NOT NULL DEFAULT 0,
  contrast REAL NOT NULL DEFAULT 0,
  is_mirrored INTEGER NOT NULL DEFAULT 0,
  UNIQUE (lesson_id, media_hash)
) STRICT;
CREATE INDEX clip_of_media ON clip (media_hash);

CREATE TABLE block (
  id TEXT PRIMARY KEY NOT NULL,
  lesson_id TEXT NOT NULL REFERENCES lesson (id) ON DELETE CASCADE,
  position INTEGER NOT NULL,
  name TEXT NOT NULL,
  focus TEXT NOT NULL DEFAULT '',
  is_baseline INTEGER NOT NULL DEFAULT 0,
  note TEXT NOT NULL DEFAULT ''
) STRICT;
CREATE INDEX block_of_lesson ON block (lesson_id, position);

CREATE TABLE shot (
  id TEXT PRIMARY KEY NOT NULL,
  lesson_id TEXT NOT NULL REFERENCES lesson (id) ON DELETE CASCADE,
  file_name TEXT NOT NULL,
  line INTEGER NOT NULL,
  position INTEGER NOT NULL,
  fingerprint TEXT NOT NULL,
  club TEXT,
  at TEXT,
  block_name TEXT,
  club_speed_mps REAL,
  ball_speed_mps REAL,
  launch_deg REAL,
  start_line_deg REAL,
  spin_rpm REAL,
  spin_axis_deg REAL,
  carry_m REAL,
  total_m REAL,
  side_m REAL,
  apex_m REAL,
  land_deg REAL,
  flight_seconds REAL,
  attack_deg REAL,
  club_path_deg REAL,
  face_deg REAL,
  loft_deg REAL,
  impact_x_mm REAL,
  impact_y_mm REAL,
  flags TEXT NOT NULL,
  other TEXT NOT NULL,
  is_left_out INTEGER NOT NULL DEFAULT 0,
  left_out_reason TEXT NOT NULL DEFAULT '',
  UNIQUE (lesson_id, fingerprint)
) STRICT;
CREATE INDEX shot_of_lesson ON shot (lesson_id, position);

CREATE TABLE swing (
  id TEXT PRIMARY KEY NOT NULL,
  lesson_id TEXT NOT NULL REFERENCES lesson (id) ON DELETE CASCADE,
  block_id TEXT NOT NULL REFERENCES block (id) ON DELETE CASCADE,
  position INTEGER NOT NULL,
  shot_id TEXT REFERENCES shot (id) ON DELETE SET NULL,
  pair_confidence REAL NOT NULL DEFAULT 0,
  pair_how TEXT,
  is_starred INTEGER NOT NULL DEFAULT 0,
  note TEXT NOT NULL DEFAULT ''
) STRICT;
CREATE INDEX swing_of_lesson ON swing (lesson_id, position);
CREATE INDEX swing_of_block ON swing (block_id);
CREATE INDEX swing_of_shot ON swing (shot_id);

CREATE TABLE view (
  id TEXT PRIMARY KEY NOT NULL,
  swing_id TEXT NOT NULL REFERENCES swing (id) ON DELETE CASCADE,
  clip_id TEXT NOT NULL REFERENCES clip (id) ON DELETE CASCADE,
  from_frame INTEGER NOT NULL,
  to_frame INTEGER NOT NULL
) STRICT;
CREATE INDEX view_of_swing ON view (swing_id);
CREATE INDEX view_of_clip ON view (clip_id);

CREATE TABLE moment (
  id TEXT PRIMARY KEY NOT NULL,
  view_id TEXT NOT NULL REFERENCES view (id) ON DELETE CASCADE,
  name TEXT NOT NULL,
  frame INTEGER NOT NULL,
  how TEXT NOT NULL,
  confidence REAL NOT NULL,
  is_confirmed INTEGER NOT NULL DEFAULT 0,
  UNIQUE (view_id, name)
) STRICT;

CREATE TABLE cue (
  id TEXT PRIMARY KEY NOT NULL,
  moment_id TEXT NOT NULL REFERENCES moment (id) ON DELETE CASCADE,
  kind TEXT NOT NULL,
  strength INTEGER NOT NULL,
  x REAL,
  y REAL,
  note TEXT NOT NULL DEFAULT ''
) STRICT;
CREATE INDEX cue_of_moment ON cue (moment_id);

CREATE TABLE drawing (
  id TEXT PRIMARY KEY NOT NULL,
  view_id TEXT NOT NULL REFERENCES view (id) ON DELETE CASCADE,
  moment_id TEXT REFERENCES moment (id) ON DELETE CASCADE,
  from_frame INTEGER NOT NULL,
  to_frame INTEGER NOT NULL,
  shape TEXT NOT NULL,
  position REAL NOT NULL,
  is_hidden INTEGER NOT NULL DEFAULT 0
) STRICT;
CREATE INDEX drawing_of_view ON drawing (view_id);
CREATE INDEX drawing_of_moment ON drawing (moment_id);

CREATE TABLE comparison (
  id TEXT PRIMARY KEY NOT NULL,
  lesson_id TEXT NOT NULL REFERENCES lesson (id) ON DELETE CASCADE,
  name TEXT NOT NULL,
  first_view_id TEXT NOT NULL REFERENCES view (id) ON DELETE CASCADE,
  second_view_id TEXT NOT NULL REFERENCES view (id) ON DELETE CASCADE,
  locked_on TEXT NOT NULL,
  arrangement TEXT NOT NULL,
  opacity REAL NOT NULL,
  is_stretched INTEGER NOT NULL,
  mirror_second INTEGER NOT NULL
) STRICT;
CREATE INDEX comparison_of_lesson ON comparison (lesson_id);
CREATE INDEX comparison_of_first ON comparison (first_view_id);
CREATE INDEX comparison_of_second ON comparison (second_view_id);

CREATE TABLE cue_kind (
  key TEXT PRIMARY KEY NOT NULL,
  "group" TEXT NOT NULL,
  label TEXT NOT NULL,
  is_own INTEGER NOT NULL
) STRICT;

CREATE TABLE drill (
  id TEXT PRIMARY KEY NOT NULL,
  name TEXT NOT NULL,
  purpose TEXT NOT NULL,
  cue_kinds TEXT NOT NULL,
  how TEXT NOT NULL,
  dose TEXT NOT NULL,
  watch_for TEXT NOT NULL,
  caution TEXT NOT NULL,
  is_loading INTEGER NOT NULL
) STRICT;

CREATE TABLE plan (
  lesson_id TEXT PRIMARY KEY NOT NULL REFERENCES lesson (id) ON DELETE CASCADE,
  items TEXT NOT NULL,
  note TEXT NOT NULL,
  outcome TEXT NOT NULL
) STRICT;

CREATE TABLE hand_over_draft (
  lesson_id TEXT PRIMARY KEY NOT NULL REFERENCES lesson (id) ON DELETE CASCADE,
  draft TEXT NOT NULL
) STRICT;

CREATE TABLE hand_over (
  id TEXT PRIMARY KEY NOT NULL,
  lesson_id TEXT NOT NULL REFERENCES lesson (id) ON DELETE CASCADE,
  written_at TEXT NOT NULL,
  folder TEXT NOT NULL,
  zip TEXT NOT NULL,
  byte_length INTEGER NOT NULL,
  draft TEXT NOT NULL,
  consent_said_by TEXT
) STRICT;
CREATE INDEX hand_over_of_lesson ON hand_over (lesson_id, written_at);

CREATE TABLE hand_over_template (
  id TEXT PRIMARY KEY NOT NULL,
  name TEXT NOT NULL,
  message TEXT NOT NULL,
  slow_by REAL NOT NULL,
  max_height INTEGER NOT NULL,
  with_plan INTEGER NOT NULL
) STRICT;

CREATE TABLE talk_through (
  id TEXT PRIMARY KEY NOT NULL,
  lesson_id TEXT NOT NULL REFERENCES lesson (id) ON DELETE CASCADE,
  name TEXT NOT NULL,
  file_name TEXT NOT NULL,
  duration_seconds REAL NOT NULL,
  recorded_at TEXT NOT NULL
) STRICT;
CREATE INDEX talk_through_of_lesson ON talk_through (lesson_id);

CREATE TABLE setting (
  key TEXT PRIMARY KEY NOT NULL,
  value TEXT NOT NULL
) STRICT;

CREATE TABLE job (
  id TEXT PRIMARY KEY NOT NULL,
  kind TEXT NOT NULL,
  lesson_id TEXT REFERENCES lesson (id) ON DELETE CASCADE,
  label TEXT NOT NULL,
  task TEXT NOT NULL,
  state TEXT NOT NULL,
  problem TEXT,
  result TEXT,
  created_at TEXT NOT NULL
) STRICT;
CREATE INDEX job_of_lesson ON job (lesson_id);

CREATE TABLE edit (
  id INTEGER PRIMARY KEY,
  lesson_id TEXT NOT NULL REFERENCES lesson (id) ON DELETE CASCADE,
  label TEXT NOT NULL,
  merge_key TEXT,
  at TEXT NOT NULL,
  is_undone INTEGER NOT NULL DEFAULT 0
) STRICT;
CREATE INDEX edit_of_lesson ON edit (lesson_id, id);

CREATE TABLE edit_row (
  seq INTEGER PRIMARY KEY,
  edit_id INTEGER NOT NULL REFERENCES edit (id) ON DELETE CASCADE,
  table_name TEXT NOT NULL,
  row_id TEXT NOT NULL,
  before TEXT,
  after TEXT
) STRICT;
CREATE INDEX edit_row_of_edit ON edit_row (edit_id, seq);
`,
} as const
