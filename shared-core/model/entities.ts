import { z } from 'zod'
import { languages } from '../wording/language.ts'
import { said, wordSchema } from '../wording/phrase.ts'
import { unitSystems, type UnitSystem } from '../units.ts'
import { lostReasons } from '../following/followed-track.ts'
import { tieSchema } from './tie.ts'
import { assumedUnitSchema, shotFlagSchema, shotMetricsSchema } from './shot.ts'

/**
 * The records of a library as the window and the command line see them. The database keeps them in
 * electron/library/schema.ts; what is computed from them (efficiency, change…) is never stored.
 *
 * Times: `…At` is ISO 8601; `…Seconds` are seconds; frames are 0-based indexes into the clip as decoded.
 */
export const idSchema = z.string().min(1).max(64)

/** The side a player plays from. */
export const sideSchema = z.enum(['right', 'left'])
export type Side = z.infer<typeof sideSchema>

/** The units a coach or student reads. */
export const unitSystemSchema = z.enum(unitSystems)
export type { UnitSystem }

const isDay = (text: string): boolean => {
  const at = Date.parse(`${text}T00:00:00Z`)
  // A day past the end of its month is taken for one of the next.
  return Number.isFinite(at) && new Date(at).toISOString().startsWith(text)
}

/** A day that there is, as YYYY-MM-DD. */
export const isoDateSchema = z
  .string()
  .regex(/^\d{4}-\d{2}-\d{2}$/, said('fault.dateForm'))
  .refine(isDay, said('fault.noSuchDay'))

/** The language of a student’s page. */
export const languageSchema = z.enum(languages)

/** What a student (or a guardian) has agreed to, until when, and who said so. */
export const consentSchema = z.object({
  filming: z.boolean(),
  storing: z.boolean(),
  sharing: z.boolean(),
  until: isoDateSchema.nullable(),
  /** Name of the person who agreed; for a minor, the guardian. */
  givenBy: z.string().max(200),
  isGuardian: z.boolean(),
  /** Films may be handed over only with the face covered. */
  coversFace: z.boolean().default(false),
  recordedAt: z.string().nullable(),
})
export type Consent = z.infer<typeof consentSchema>

/** Nothing agreed to, as a new student begins. */
export const noConsent: Consent = {
  filming: false,
  storing: false,
  sharing: false,
  until: null,
  givenBy: '',
  isGuardian: false,
  coversFace: false,
  recordedAt: null,
}

/** A student and what was agreed with them. */
export const studentSchema = z.object({
  id: idSchema,
  name: z.string().trim().min(1).max(200),
  side: sideSchema,
  isMinor: z.boolean(),
  /** Injuries and other limits, as the coach wrote them. */
  limits: z.string().max(4000),
  note: z.string().max(20_000),
  units: unitSystemSchema,
  /** In which their page is written. */
  language: languageSchema,
  consent: consentSchema,
})
export type Student = z.infer<typeof studentSchema>

/** The air of the day; null where nobody measured it. */
export const airSchema = z.object({
  temperatureC: z.number().min(-40).max(60).nullable(),
  pressureHpa: z.number().min(500).max(1100).nullable(),
  altitudeM: z.number().min(-500).max(5000).nullable(),
  humidityPercent: z.number().min(0).max(100).nullable(),
})
export type LessonAir = z.infer<typeof airSchema>

/** One lesson with one student. */
export const lessonSchema = z.object({
  id: idSchema,
  studentId: idSchema,
  date: isoDateSchema,
  title: z.string().max(200),
  place: z.string().max(200),
  note: z.string().max(50_000),
  nextFocus: z.string().max(2000),
  air: airSchema,
  /** Distance ball to microphone, metres; the sound of a strike is this much late. */
  micDistanceM: z.number().min(0).max(100),
  /** The distance is the coach's own: it goes before what the lesson's clips tell of their sound. */
  isMicTold: z.boolean(),
})
export type Lesson = z.infer<typeof lessonSchema>

/** How the filming rate of a clip is known. */
export const captureRateSources = ['file', 'tag', 'motion', 'coach', 'assumed'] as const

/** Where the camera stood. */
export const cameraViews = ['face-on', 'down-the-line', 'other'] as const

/** Where a film is slow motion, if only in a part: seconds after its first frame. */
export const slowPartSchema = z.strictObject({
  fromSeconds: z.number().min(0).max(1e5),
  toSeconds: z.number().min(0).max(1e5),
})

/** A film in a lesson, with what the file itself says. */
export const clipSchema = z.object({
  id: idSchema,
  lessonId: idSchema,
  fileName: z.string(),
  hash: z.string(),
  byteLength: z.number().int().nonnegative(),
  codec: z.string(),
  /** Size as shown, rotation applied. */
  width: z.number().int().positive(),
  height: z.number().int().positive(),
  rotationDeg: z.number(),
  frameCount: z.number().int().positive(),
  durationSeconds: z.number().nonnegative(),
  /** Frames per second at which the file plays (mean for a variable rate). */
  playbackRate: z.number().positive(),
  /** Frames per second at which the camera filmed; real seconds = frames / captureRate. */
  captureRate: z.number().positive(),
  captureRateHow: z.enum(captureRateSources),
  /** Where a file of one rate is slow motion in a part only, seconds after its first frame; null where all of it is played alike. */
  slowPart: slowPartSchema.nullable(),
  hasVariableRate: z.boolean(),
  recordedAt: z.string().nullable(),
  hasSound: z.boolean(),
  hasProxy: z.boolean(),
  camera: z.enum(cameraViews),
  /** Camera roll, + clockwise; plumb lines and levels take it into account. */
  tiltDeg: z.number(),
  /** Source pixels per metre in the plane of the player, once the coach has measured something known. */
  pixelsPerMeter: z.number().positive().nullable(),
  /** How the coach wants it shown; the file is not touched. */
  brightness: z.number().min(-1).max(1),
  contrast: z.number().min(-1).max(1),
  isMirrored: z.boolean(),
  /** What a still picture shows: one of stillKinds, or the coach's own word; null for a film. A still has one frame. */
  stillKind: z.string().trim().min(1).max(60).nullable(),
})
export type Clip = z.infer<typeof clipSchema>

/** The moments of a swing in their order. */
export const momentNames = ['setup', 'takeaway', 'top', 'brace', 'impact', 'release', 'finish'] as const

/** A moment of a swing on a frame of its clip. */
export const momentSchema = z.object({
  id: idSchema,
  viewId: idSchema,
  /** One of momentNames, or the coach's own word. */
  name: z.string().trim().min(1).max(60),
  frame: z.number().int().nonnegative(),
  how: z.enum(['sound', 'motion', 'sound+motion', 'body', 'coach']),
  /** 0 to 1; 1 for what the coach placed. */
  confidence: z.number().min(0).max(1),
  isConfirmed: z.boolean(),
})
export type Moment = z.infer<typeof momentSchema>

/** What the coach saw at a moment. */
export const cueSchema = z.object({
  id: idSchema,
  momentId: idSchema,
  /** Key of a cue kind. */
  kind: z.string(),
  strength: z.number().int().min(0).max(3),
  /** Place on the frame, source pixels; null if it has none. */
  x: z.number().nullable(),
  y: z.number().nullable(),
  note: z.string().max(4000),
})
export type Cue = z.infer<typeof cueSchema>

/** One of the things a coach looks for. */
export const cueKindSchema = z.object({
  key: z.string(),
  group: z.string(),
  label: z.string(),
  isOwn: z.boolean(),
})
export type CueKind = z.infer<typeof cueKindSchema>

/** A stored drawing; `shape` is validated by shared-core/drawing. */
export const drawingRecordSchema = z.object({
  id: idSchema,
  viewId: idSchema,
  momentId: idSchema.nullable(),
  fromFrame: z.number().int().nonnegative(),
  toFrame: z.number().int().nonnegative(),
  shape: z.looseObject({ kind: z.string() }),
  order: z.number(),
  isHidden: z.boolean(),
  /** What it moves with; null for a drawing that stays. */
  tie: tieSchema.nullable(),
})
export type DrawingRecord = z.infer<typeof drawingRecordSchema>

/** A point that is followed through a clip. */
export const followedPointSchema = z.object({
  id: idSchema,
  clipId: idSchema,
  name: z.string(),
  fromFrame: z.number().int(),
  toFrame: z.number().int(),
  /** Where the coach marked it, pixels of the shown picture. */
  marks: z.array(z.object({ frame: z.number().int(), x: z.number(), y: z.number() })),
  lost: z.array(z.object({ frame: z.number().int(), why: z.enum(lostReasons) })),
  frames: z.array(z.number().int()),
  points: z.array(z.number()),
})
export type FollowedPoint = z.infer<typeof followedPointSchema>

/** One camera's picture of a swing: a range of frames of a clip. */
export const viewSchema = z.object({
  id: idSchema,
  swingId: idSchema,
  clipId: idSchema,
  fromFrame: z.number().int().nonnegative(),
  toFrame: z.number().int().nonnegative(),
  moments: z.array(momentSchema),
  cues: z.array(cueSchema),
  drawings: z.array(drawingRecordSchema),
})
export type View = z.infer<typeof viewSchema>

/** A shot as the device recorded it, SI. */
export const shotSchema = shotMetricsSchema.extend({
  id: idSchema,
  lessonId: idSchema,
  fileName: z.string(),
  line: z.number().int(),
  /** Place in the file's order over the whole lesson. */
  order: z.number(),
  club: z.string().nullable(),
  at: z.string().nullable(),
  blockName: z.string().nullable(),
  flags: z.array(shotFlagSchema),
  other: z.record(z.string(), z.string()),
  /** The coach left it out, with a reason; it is never dropped silently. */
  isLeftOut: z.boolean(),
  leftOutReason: z.string(),
  /** The coach has said that the flagged values are right; until then they take no part. */
  isTrusted: z.boolean(),
  assumed: z.array(assumedUnitSchema),
})
export type Shot = z.infer<typeof shotSchema>

/** How a clip and a shot were found to belong together. */
export const pairHows = ['clock', 'spacing', 'order', 'coach'] as const

/** One swing: what cameras and device have of it. */
export const swingSchema = z.object({
  id: idSchema,
  lessonId: idSchema,
  blockId: idSchema,
  order: z.number(),
  shotId: idSchema.nullable(),
  pairConfidence: z.number().min(0).max(1),
  pairHow: z.enum(pairHows).nullable(),
  isStarred: z.boolean(),
  note: z.string().max(20_000),
  /** Whether it did what the block's focus asks; null where nobody said. */
  didAsked: z.boolean().nullable(),
  /** Empty for a swing that only the device saw. */
  views: z.array(viewSchema),
})
export type Swing = z.infer<typeof swingSchema>

/** Swings in a row with one focus. */
export const blockSchema = z.object({
  id: idSchema,
  lessonId: idSchema,
  order: z.number(),
  name: z.string().max(200),
  focus: z.string().max(2000),
  isBaseline: z.boolean(),
  note: z.string().max(20_000),
})
export type Block = z.infer<typeof blockSchema>

/** Two swings beside or over each other, kept with the lesson. */
export const comparisonSchema = z.object({
  id: idSchema,
  lessonId: idSchema,
  name: z.string().max(200),
  firstViewId: idSchema,
  secondViewId: idSchema,
  lockedOn: z.string().max(60),
  arrangement: z.enum(['beside', 'over']),
  opacity: z.number().min(0).max(1),
  isStretched: z.boolean(),
  mirrorSecond: z.boolean(),
})
export type Comparison = z.infer<typeof comparisonSchema>

/** A photo of a club's face that strikes are read from; null marks are not set yet. Places in its own pixels. */
export const facePhotoSchema = z.object({
  id: idSchema,
  lessonId: idSchema,
  club: z.string().nullable(),
  /** The still picture of the lesson that it is. */
  clipId: idSchema.nullable(),
  /** Of a photo that was kept before there were still pictures; null for others. */
  pictureId: idSchema.nullable(),
  width: z.number().int().positive(),
  height: z.number().int().positive(),
  toeX: z.number().nullable(),
  toeY: z.number().nullable(),
  heelX: z.number().nullable(),
  heelY: z.number().nullable(),
  /** True distance between the two marks. */
  lengthMm: z.number().min(10).max(200),
})
export type FacePhoto = z.infer<typeof facePhotoSchema>

/** What can be said of a job. */
export const jobStates = ['waiting', 'running', 'done', 'failed', 'cancelled'] as const

/** The work that takes long enough to be a job. */
export const jobKinds = [
  'add-clip',
  'working-copy',
  'hand-over',
  'talk-through',
  'demo',
  'body-points',
  'follow',
  'backup',
  'repair',
  'give-lesson',
  'take-lesson',
] as const

/** A film that is being taken in and can be looked at already, as the lesson will have it; nothing of it is in the records yet. */
export const arrivingSchema = z.object({ clip: clipSchema, view: viewSchema })
export type Arriving = z.infer<typeof arrivingSchema>

/** Long work, as the window shows it. */
export const jobSchema = z.object({
  id: idSchema,
  kind: z.enum(jobKinds),
  lessonId: idSchema.nullable(),
  label: z.string(),
  state: z.enum(jobStates),
  /** What it is doing, in words. */
  step: z.string(),
  /** 0 to 1; 1 is not yet done. */
  progress: z.number().min(0).max(1),
  problem: z
    .object({
      what: z.string(),
      where: z.string().nullable(),
      toDo: z.string().nullable(),
      // What makes the sentences; not there in what an older Leadside kept.
      key: z.string().optional(),
      values: z.record(z.string(), wordSchema).optional(),
      place: wordSchema.nullable().optional(),
    })
    .nullable(),
  /** When it is done: the folder or file it wrote, or what came of it in words. */
  result: z.string().nullable(),
  /** Which of the phrases `result.…` it is, if it is one. */
  outcome: z.string().nullable(),
  /** What it takes in, from when it can be looked at to its end. */
  arriving: arrivingSchema.nullable(),
})
export type Job = z.infer<typeof jobSchema>

/** A picture from another lesson of the same student, set beside one of this lesson. */
export const guestPictureSchema = z.object({
  lesson: z.object({ id: idSchema, date: isoDateSchema, title: z.string() }),
  blockName: z.string(),
  /** With the one view that is shown. */
  swing: swingSchema,
  clip: clipSchema,
  shot: shotSchema.nullable(),
})
export type GuestPicture = z.infer<typeof guestPictureSchema>

/** Everything the Desk shows of one lesson. */
export const openLessonSchema = z.object({
  revision: z.number().int(),
  student: studentSchema,
  lesson: lessonSchema,
  blocks: z.array(blockSchema),
  swings: z.array(swingSchema),
  shots: z.array(shotSchema),
  clips: z.array(clipSchema),
  comparisons: z.array(comparisonSchema),
  facePhotos: z.array(facePhotoSchema),
  /** What the comparisons show of other lessons. */
  guests: z.array(guestPictureSchema),
  clock: z
    .object({
      offsetSeconds: z.number(),
      driftPpm: z.number(),
      residualSdSeconds: z.number(),
      how: z.string(),
    })
    .nullable(),
  undoLabel: z.string().nullable(),
  redoLabel: z.string().nullable(),
})
export type OpenLesson = z.infer<typeof openLessonSchema>
