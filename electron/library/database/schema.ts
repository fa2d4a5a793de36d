import { blob, integer, primaryKey, real, sqliteTable, text } from 'drizzle-orm/sqlite-core'
import { jobKinds, type Consent, type Job } from '../../../shared-core/model/entities.ts'
import { starterDrillKeys } from '../../../shared-core/model/starter-drills.ts'
import { languages } from '../../../shared-core/wording/language.ts'
import type { HandOverDraft, PlanItem } from '../../../shared-core/model/hand-over.ts'
import type { SlowPart } from '../../../shared-core/timing/ramp.ts'
import type { KnownStrike } from '../../../shared-core/moments/sound-delay.ts'
import type { Lost } from '../../../shared-core/following/followed-track.ts'
import type { Tie } from '../../../shared-core/model/tie.ts'
import type { AssumedUnit, ShotFlag } from '../../../shared-core/model/shot.ts'

/**
 * The tables as the typed query layer sees them. The SQL that makes them is in migrations/;
 * tests/library/schema.test.ts fails when the two part.
 */
const flag = (name: string) => integer(name, { mode: 'boolean' })

export const student = sqliteTable('student', {
  id: text().primaryKey(),
  name: text().notNull(),
  side: text({ enum: ['right', 'left'] }).notNull(),
  isMinor: flag('is_minor').notNull().default(false),
  limits: text().notNull().default(''),
  note: text().notNull().default(''),
  language: text({ enum: languages }).notNull().default('en'),
  units: text({ enum: ['mph-yd', 'kmh-m', 'mps-m'] })
    .notNull()
    .default('mph-yd'),
  consent: text({ mode: 'json' }).$type<Consent>().notNull(),
  createdAt: text('created_at').notNull(),
})

export const lesson = sqliteTable('lesson', {
  id: text().primaryKey(),
  studentId: text('student_id').notNull(),
  date: text().notNull(),
  title: text().notNull().default(''),
  place: text().notNull().default(''),
  note: text().notNull().default(''),
  nextFocus: text('next_focus').notNull().default(''),
  temperatureC: real('temperature_c'),
  pressureHpa: real('pressure_hpa'),
  altitudeM: real('altitude_m'),
  humidityPercent: real('humidity_percent'),
  micDistanceM: real('mic_distance_m').notNull(),
  isMicTold: flag('is_mic_told').notNull().default(false),
  clock: text({ mode: 'json' }).$type<{
    offsetSeconds: number
    driftPpm: number
    residualSdSeconds: number
    how: string
  }>(),
})

export const lessonRevision = sqliteTable('lesson_revision', {
  lessonId: text('lesson_id').primaryKey(),
  revision: integer().notNull().default(0),
})

export const media = sqliteTable('media', {
  hash: text().primaryKey(),
  extension: text().notNull(),
  byteLength: integer('byte_length').notNull(),
  codec: text().notNull(),
  width: integer().notNull(),
  height: integer().notNull(),
  rotationDeg: real('rotation_deg').notNull(),
  frameCount: integer('frame_count').notNull(),
  durationSeconds: real('duration_seconds').notNull(),
  playbackRate: real('playback_rate').notNull(),
  hasVariableRate: flag('has_variable_rate').notNull(),
  recordedAt: text('recorded_at'),
  cameraTag: text('camera_tag'),
  hasSound: flag('has_sound').notNull(),
  hasProxy: flag('has_proxy').notNull(),
  /** Its frames are the fields of an interlaced film, which the working copy shows. */
  showsFields: flag('shows_fields').notNull().default(false),
  /** Float64 seconds from the first frame, little endian. */
  timestamps: blob({ mode: 'buffer' }).notNull(),
  /** Int8 pairs (min, max), full scale 127. */
  peaks: blob({ mode: 'buffer' }),
  peakBinSeconds: real('peak_bin_seconds').notNull(),
  addedAt: text('added_at').notNull(),
})

/**
 * Body points as read: `frames` Int32, `points` Float32 (x, y, score for each of 17 joints a frame), `shifts` Float32 (`shiftFields` a frame),
 * little endian.
 */
export const bodyPoints = sqliteTable('body_points', {
  mediaHash: text('media_hash').primaryKey(),
  model: text().notNull(),
  frames: blob({ mode: 'buffer' }).notNull(),
  points: blob({ mode: 'buffer' }).notNull(),
  shifts: blob({ mode: 'buffer' }),
  readAt: text('read_at').notNull(),
})

/** A joint that the coach set by hand on one frame, pixels of the shown picture. */
export const bodyCorrection = sqliteTable('body_correction', {
  id: text().primaryKey(),
  clipId: text('clip_id').notNull(),
  frame: integer().notNull(),
  joint: text().notNull(),
  x: real().notNull(),
  y: real().notNull(),
})

/** A point of a clip that is followed; where it was found is in `followedTrack`. */
export const followedPoint = sqliteTable('followed_point', {
  id: text().primaryKey(),
  clipId: text('clip_id').notNull(),
  name: text().notNull(),
  /** Frames it is followed on, ends included. */
  fromFrame: integer('from_frame').notNull(),
  toFrame: integer('to_frame').notNull(),
  trackId: text('track_id'),
  lost: text({ mode: 'json' }).$type<Lost[]>().notNull(),
})

/** A place of it that the coach marked, pixels of the shown picture. */
export const followMark = sqliteTable('follow_mark', {
  id: text().primaryKey(),
  followedId: text('followed_id').notNull(),
  frame: integer().notNull(),
  x: real().notNull(),
  y: real().notNull(),
})

/** Never changed once written: `frames` Int32, `points` Float32 (x, y, error for each frame), little endian. */
export const followedTrack = sqliteTable('followed_track', {
  id: text().primaryKey(),
  mediaHash: text('media_hash').notNull(),
  frames: blob({ mode: 'buffer' }).notNull(),
  points: blob({ mode: 'buffer' }).notNull(),
})

export const clip = sqliteTable('clip', {
  id: text().primaryKey(),
  lessonId: text('lesson_id').notNull(),
  mediaHash: text('media_hash').notNull(),
  fileName: text('file_name').notNull(),
  captureRate: real('capture_rate').notNull(),
  captureRateHow: text('capture_rate_how', { enum: ['file', 'tag', 'motion', 'coach', 'assumed'] }).notNull(),
  camera: text({ enum: ['face-on', 'down-the-line', 'other'] }).notNull(),
  tiltDeg: real('tilt_deg').notNull().default(0),
  pixelsPerMeter: real('pixels_per_meter'),
  brightness: real().notNull().default(0),
  contrast: real().notNull().default(0),
  isMirrored: flag('is_mirrored').notNull().default(false),
  stillKind: text('still_kind'),
  slowPart: text('slow_part', { mode: 'json' }).$type<SlowPart>(),
  /** Of its strikes, as read at that capture rate and with that delay of its sound; null where none was. */
  strikes: text({ mode: 'json' }).$type<{
    captureRate: number
    delaySeconds: number
    strikes: KnownStrike[]
  }>(),
})

export const block = sqliteTable('block', {
  id: text().primaryKey(),
  lessonId: text('lesson_id').notNull(),
  position: integer().notNull(),
  name: text().notNull(),
  focus: text().notNull().default(''),
  isBaseline: flag('is_baseline').notNull().default(false),
  note: text().notNull().default(''),
})

export const shot = sqliteTable('shot', {
  id: text().primaryKey(),
  lessonId: text('lesson_id').notNull(),
  fileName: text('file_name').notNull(),
  line: integer().notNull(),
  position: integer().notNull(),
  /** What makes two records the same shot: adding a file twice adds nothing. */
  fingerprint: text().notNull(),
  club: text(),
  at: text(),
  blockName: text('block_name'),
  clubSpeedMps: real('club_speed_mps'),
  ballSpeedMps: real('ball_speed_mps'),
  launchDeg: real('launch_deg'),
  launchDirectionDeg: real('start_line_deg'),
  spinRpm: real('spin_rpm'),
  spinAxisDeg: real('spin_axis_deg'),
  carryM: real('carry_m'),
  totalM: real('total_m'),
  sideM: real('side_m'),
  apexM: real('apex_m'),
  descentDeg: real('land_deg'),
  flightSeconds: real('flight_seconds'),
  attackDeg: real('attack_deg'),
  clubPathDeg: real('club_path_deg'),
  faceDeg: real('face_deg'),
  dynamicLoftDeg: real('loft_deg'),
  impactXMm: real('impact_x_mm'),
  impactYMm: real('impact_y_mm'),
  flags: text({ mode: 'json' }).$type<ShotFlag[]>().notNull(),
  other: text({ mode: 'json' }).$type<Record<string, string>>().notNull(),
  isLeftOut: flag('is_left_out').notNull().default(false),
  leftOutReason: text('left_out_reason').notNull().default(''),
  isTrusted: flag('is_trusted').notNull().default(false),
  assumed: text({ mode: 'json' }).$type<AssumedUnit[]>().notNull().default([]),
})

export const swing = sqliteTable('swing', {
  id: text().primaryKey(),
  lessonId: text('lesson_id').notNull(),
  blockId: text('block_id').notNull(),
  position: integer().notNull(),
  shotId: text('shot_id'),
  pairConfidence: real('pair_confidence').notNull().default(0),
  pairHow: text('pair_how', { enum: ['clock', 'spacing', 'order', 'coach'] }),
  isStarred: flag('is_starred').notNull().default(false),
  note: text().notNull().default(''),
  didAsked: flag('did_asked'),
})

export const view = sqliteTable('view', {
  id: text().primaryKey(),
  swingId: text('swing_id').notNull(),
  clipId: text('clip_id').notNull(),
  fromFrame: integer('from_frame').notNull(),
  toFrame: integer('to_frame').notNull(),
})

export const moment = sqliteTable('moment', {
  id: text().primaryKey(),
  viewId: text('view_id').notNull(),
  name: text().notNull(),
  frame: integer().notNull(),
  how: text({ enum: ['sound', 'motion', 'sound+motion', 'body', 'coach'] }).notNull(),
  confidence: real().notNull(),
  isConfirmed: flag('is_confirmed').notNull().default(false),
})

export const cue = sqliteTable('cue', {
  id: text().primaryKey(),
  momentId: text('moment_id').notNull(),
  kind: text().notNull(),
  strength: integer().notNull(),
  x: real(),
  y: real(),
  note: text().notNull().default(''),
})

export const drawing = sqliteTable('drawing', {
  id: text().primaryKey(),
  viewId: text('view_id').notNull(),
  momentId: text('moment_id'),
  fromFrame: integer('from_frame').notNull(),
  toFrame: integer('to_frame').notNull(),
  shape: text({ mode: 'json' }).$type<{ kind: string; [key: string]: unknown }>().notNull(),
  position: real().notNull(),
  isHidden: flag('is_hidden').notNull().default(false),
  tie: text({ mode: 'json' }).$type<Tie>(),
})

export const comparison = sqliteTable('comparison', {
  id: text().primaryKey(),
  lessonId: text('lesson_id').notNull(),
  name: text().notNull(),
  firstViewId: text('first_view_id').notNull(),
  secondViewId: text('second_view_id').notNull(),
  lockedOn: text('locked_on').notNull(),
  arrangement: text({ enum: ['beside', 'over'] }).notNull(),
  opacity: real().notNull(),
  isStretched: flag('is_stretched').notNull(),
  mirrorSecond: flag('mirror_second').notNull(),
})

export const facePhoto = sqliteTable('face_photo', {
  id: text().primaryKey(),
  lessonId: text('lesson_id').notNull(),
  club: text(),
  clipId: text('clip_id'),
  pictureId: text('picture_id'),
  width: integer().notNull(),
  height: integer().notNull(),
  toeX: real('toe_x'),
  toeY: real('toe_y'),
  heelX: real('heel_x'),
  heelY: real('heel_y'),
  lengthMm: real('length_mm').notNull(),
})

export const cueKind = sqliteTable('cue_kind', {
  key: text().primaryKey(),
  group: text().notNull(),
  label: text().notNull(),
  isOwn: flag('is_own').notNull(),
})

export const drill = sqliteTable('drill', {
  id: text().primaryKey(),
  name: text().notNull(),
  purpose: text().notNull(),
  cueKinds: text('cue_kinds', { mode: 'json' }).$type<string[]>().notNull(),
  how: text().notNull(),
  dose: text().notNull(),
  watchFor: text('watch_for').notNull(),
  caution: text().notNull(),
  isLoading: flag('is_loading').notNull(),
  pictureId: text('picture_id'),
  /** Which starter drill's words it has; its own texts are empty then. */
  starterKey: text('starter_key', { enum: starterDrillKeys }),
})

export const coachPicture = sqliteTable('coach_picture', {
  id: text().primaryKey(),
  kind: text({ enum: ['picture', 'clip'] }).notNull(),
  extension: text().notNull(),
  width: integer().notNull(),
  height: integer().notNull(),
  byteLength: integer('byte_length').notNull(),
  addedAt: text('added_at').notNull(),
})

export const plan = sqliteTable('plan', {
  lessonId: text('lesson_id').primaryKey(),
  items: text({ mode: 'json' }).$type<PlanItem[]>().notNull(),
  note: text().notNull(),
  outcome: text().notNull(),
})

export const handOverDraft = sqliteTable('hand_over_draft', {
  lessonId: text('lesson_id').primaryKey(),
  draft: text({ mode: 'json' }).$type<HandOverDraft>().notNull(),
})

export const handOver = sqliteTable('hand_over', {
  id: text().primaryKey(),
  lessonId: text('lesson_id').notNull(),
  writtenAt: text('written_at').notNull(),
  folder: text().notNull(),
  zip: text().notNull(),
  byteLength: integer('byte_length').notNull(),
  draft: text({ mode: 'json' }).$type<HandOverDraft>().notNull(),
  consentSaidBy: text('consent_said_by'),
  remarks: text({ mode: 'json' }).$type<string[]>().notNull().default([]),
})

export const handOverTemplate = sqliteTable('hand_over_template', {
  id: text().primaryKey(),
  name: text().notNull(),
  message: text().notNull(),
  slowBy: real('slow_by').notNull(),
  maxHeight: integer('max_height').notNull(),
  withPlan: flag('with_plan').notNull(),
})

export const talkThrough = sqliteTable('talk_through', {
  id: text().primaryKey(),
  lessonId: text('lesson_id').notNull(),
  name: text().notNull(),
  fileName: text('file_name').notNull(),
  durationSeconds: real('duration_seconds').notNull(),
  recordedAt: text('recorded_at').notNull(),
})

export const setting = sqliteTable('setting', {
  key: text().primaryKey(),
  value: text({ mode: 'json' }).$type<unknown>().notNull(),
})

export const job = sqliteTable('job', {
  id: text().primaryKey(),
  kind: text({ enum: jobKinds }).notNull(),
  lessonId: text('lesson_id'),
  label: text().notNull(),
  task: text({ mode: 'json' }).$type<Record<string, unknown>>().notNull(),
  state: text({ enum: ['waiting', 'running', 'done', 'failed', 'cancelled'] }).notNull(),
  problem: text({ mode: 'json' }).$type<Job['problem']>(),
  result: text(),
  createdAt: text('created_at').notNull(),
  /** Presence of the process that does it; another process never runs or ends it while that one is there. */
  owner: text(),
  /** How often it was begun. */
  attempts: integer().notNull().default(0),
})

/** A clip that is being taken in: one job at a time makes the parts of one hash. */
export const mediaClaim = sqliteTable('media_claim', {
  hash: text().primaryKey(),
  jobId: text('job_id').notNull(),
  owner: text().notNull(),
})

/** Whose clip it is or was, also when no lesson speaks of it any more; filled by a trigger. */
export const mediaStudent = sqliteTable(
  'media_student',
  { hash: text().notNull(), studentId: text('student_id').notNull() },
  (table) => [primaryKey({ columns: [table.hash, table.studentId] })],
)

/** Backups that this library made, and into which file. */
export const backup = sqliteTable('backup', {
  id: text().primaryKey(),
  file: text().notNull(),
  madeAt: text('made_at').notNull(),
  byteLength: integer('byte_length').notNull(),
})

/** A lesson file that was written for a colleague. */
export const givenFile = sqliteTable('given_file', {
  /** The file bears it inside, too. */
  id: text().primaryKey(),
  studentId: text('student_id').notNull(),
  lessonIds: text('lesson_ids', { mode: 'json' }).$type<string[]>().notNull(),
  file: text().notNull(),
  byteLength: integer('byte_length').notNull(),
  writtenAt: text('written_at').notNull(),
})

/** Which student elsewhere this one is, by a lesson file: made by it, or by the coach's word. */
export const takenStudent = sqliteTable(
  'taken_student',
  {
    studentId: text('student_id').notNull(),
    originId: text('origin_id').notNull(),
    /** Name of the colleague. */
    givenBy: text('given_by').notNull(),
    takenAt: text('taken_at').notNull(),
    isNew: flag('is_new').notNull(),
  },
  (table) => [primaryKey({ columns: [table.studentId, table.originId] })],
)

/** A lesson that came out of a lesson file. */
export const takenLesson = sqliteTable('taken_lesson', {
  lessonId: text('lesson_id').primaryKey(),
  originId: text('origin_id').notNull(),
  /** Of what was in the file. */
  contentHash: text('content_hash').notNull(),
  /** Of what it would have been without the coach's own notes. */
  bareHash: text('bare_hash').notNull(),
  /** When the file was written. */
  writtenAt: text('written_at').notNull(),
})

/** One row: which library this is, and how far it has come; see custody/mark.ts. */
export const libraryMark = sqliteTable('library_mark', {
  id: text().primaryKey(),
  sequence: integer().notNull(),
})

export const deletion = sqliteTable('deletion', {
  id: text().primaryKey(),
  askedAt: text('asked_at').notNull(),
  finishedAt: text('finished_at'),
  /** Null once everything is gone; deletion/plan.ts checks it when it is read. */
  plan: text({ mode: 'json' }).$type<unknown>(),
  lessons: integer().notNull(),
  clips: integer().notNull(),
  files: integer().notNull().default(0),
  bytes: integer().notNull().default(0),
})

export const liveLesson = sqliteTable('live_lesson', {
  lessonId: text('lesson_id').primaryKey(),
  clipsFolder: text('clips_folder').notNull(),
  shotsPath: text('shots_path'),
  isOn: flag('is_on').notNull(),
})

export const liveFile = sqliteTable(
  'live_file',
  {
    lessonId: text('lesson_id').notNull(),
    /** Path, size and time of a file that was there before, or was taken in. */
    key: text().notNull(),
  },
  (table) => [primaryKey({ columns: [table.lessonId, table.key] })],
)

export const edit = sqliteTable('edit', {
  id: integer().primaryKey(),
  lessonId: text('lesson_id').notNull(),
  label: text().notNull(),
  mergeKey: text('merge_key'),
  at: text().notNull(),
  isUndone: flag('is_undone').notNull().default(false),
})

export const editRow = sqliteTable('edit_row', {
  seq: integer().primaryKey(),
  editId: integer('edit_id').notNull(),
  tableName: text('table_name').notNull(),
  rowId: text('row_id').notNull(),
  before: text(),
  after: text(),
})
