import { z } from 'zod'
import { jointNames } from '../body/joints.ts'
import { strictShape } from '../drawing/strict-shape.ts'
import {
  airSchema,
  blockSchema,
  cameraViews,
  captureRateSources,
  slowPartSchema,
  clipSchema,
  comparisonSchema,
  consentSchema,
  cueSchema,
  facePhotoSchema,
  isoDateSchema,
  lessonSchema,
  momentSchema,
  pairHows,
  sideSchema,
  swingSchema,
  unitSystemSchema,
  languageSchema,
} from '../model/entities.ts'
import { planItemSchema, planSchema } from '../model/hand-over.ts'
import { assumedUnitSchema, shotFlagSchema, shotMetricsSchema } from '../model/shot.ts'
import { said } from '../wording/phrase.ts'

/**
 * A lesson file: lessons of one student, for a colleague. Records refer to each other by place in their lists, never by
 * ids of a library; `originId` alone tells whether a lesson is there already. A file comes from outside: every list and text
 * has its limit, a key that is not named here is refused.
 */
export const lessonFileFormat = 'leadside-lesson-file'
/** Raised when an older reader would misread the form; every version up to this one is read. */
export const lessonFileVersion = 2

/**
 * The records' text of an older version as this one names things. Version 1 had three metrics under other names; in JSON
 * no text of a coach can hold a quoted name without a backslash before its quote.
 */
export const inPresentNames = (records: string, version: number): string =>
  version > 1
    ? records
    : records
        .replaceAll('"startLineDeg"', '"launchDirectionDeg"')
        .replaceAll('"landDeg"', '"descentDeg"')
        .replaceAll('"loftDeg"', '"dynamicLoftDeg"')
/** What the name of a lesson file ends with. */
export const lessonFileExtension = '.leadside-lesson'

/** Control characters (tab and line ends aside), and marks that turn the direction of writing: nothing a coach types. */
const unseen = /[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f-\u009f\u202a-\u202e\u2066-\u2069]/
/** The same text without them. */
export const withoutUnseen = (text: string): string =>
  text.replace(new RegExp(unseen.source, 'g'), '').replace(/\p{Surrogate}/gu, '')

const text = (longest: number) =>
  z
    .string()
    .max(longest)
    .refine((value) => !unseen.test(value), said('fault.unseenCharacters'))
const line = (longest: number) =>
  text(longest).refine((value) => !/[\r\n\t]/.test(value), said('fault.severalLines'))
const plainFileName = line(400).refine((value) => !/[/\\]/.test(value), said('fault.notAPath'))
const at = z.iso.datetime({ offset: true, local: true }).max(40)
const index = z.int().nonnegative()
const frame = z.int().min(0).max(100_000_000)
const number = z.number().min(-1e9).max(1e9)
const share = z.number().min(0).max(1)

/** SHA-256 as 64 hexadecimal digits (FIPS 180-4). */
export const hashSchema = z.string().regex(/^[0-9a-f]{64}$/, 'a SHA-256')
const byteLength = z
  .int()
  .min(1)
  .max(2 ** 46)
const originId = line(64).min(1)

const cue = z.strictObject({
  kind: line(200).min(1),
  strength: cueSchema.shape.strength,
  x: number.nullable(),
  y: number.nullable(),
  note: text(4000),
})
const moment = z.strictObject({
  name: line(60).min(1),
  frame,
  how: momentSchema.shape.how,
  confidence: share,
  isConfirmed: z.boolean(),
  cues: z.array(cue).max(500),
})
const drawing = z.strictObject({
  /** Place in the view's list of moments. */
  moment: index.nullable(),
  fromFrame: frame,
  toFrame: frame,
  shape: z.unknown().transform(strictShape),
  position: number,
  isHidden: z.boolean(),
})
const view = z.strictObject({
  /** Place in the lesson's list of clips. */
  clip: index,
  fromFrame: frame,
  toFrame: frame,
  moments: z.array(moment).max(500),
  drawings: z.array(drawing).max(2000),
})
const swing = z.strictObject({
  block: index,
  position: z.int().min(-1e9).max(1e9),
  shot: index.nullable(),
  pairConfidence: share,
  pairHow: z.enum(pairHows).nullable(),
  isStarred: z.boolean(),
  /** Whether it did what was asked; null where nobody said. */
  didAsked: z.boolean().nullable(),
  note: text(swingSchema.shape.note.maxLength ?? 20_000),
  views: z.array(view).max(50),
})
const clip = z.strictObject({
  hash: hashSchema,
  fileName: plainFileName,
  captureRate: z.number().positive().max(1e6),
  captureRateHow: z.enum(captureRateSources),
  /** Where a file of one rate is slow motion in a part only, seconds after its first frame. */
  slowPart: slowPartSchema.nullable().default(null),
  camera: z.enum(cameraViews),
  tiltDeg: number,
  pixelsPerMeter: z.number().positive().max(1e6).nullable(),
  brightness: clipSchema.shape.brightness,
  contrast: clipSchema.shape.contrast,
  isMirrored: z.boolean(),
  /** What a still picture shows; null for a film. */
  stillKind: line(60).min(1).nullable().default(null),
  /** Joints that the coach set by hand. */
  corrections: z
    .array(z.strictObject({ frame, joint: z.enum(jointNames), x: number, y: number }))
    .max(100_000),
})
const shot = z.strictObject({
  ...shotMetricsSchema.shape,
  fileName: plainFileName,
  line: z.int().min(-1).max(1e9),
  position: z.int().min(-1e9).max(1e9),
  fingerprint: text(20_000).min(1),
  club: line(1000).nullable(),
  at: line(60).nullable(),
  blockName: text(4000).nullable(),
  flags: z.array(z.strictObject({ ...shotFlagSchema.shape, message: text(2000), metric: line(60) })).max(100),
  /** Columns of the device's file that no number was read from; null where they were not to go along. */
  other: z.record(text(1000), text(4000)).nullable(),
  isLeftOut: z.boolean(),
  leftOutReason: text(4000),
  isTrusted: z.boolean(),
  assumed: z.array(z.strictObject({ ...assumedUnitSchema.shape, unit: line(60) })).max(100),
})
const viewPlace = z.strictObject({ lesson: originId, swing: index, view: index })
const comparison = z.strictObject({
  name: line(200),
  first: viewPlace,
  second: viewPlace,
  lockedOn: line(60),
  arrangement: comparisonSchema.shape.arrangement,
  opacity: share,
  isStretched: z.boolean(),
  mirrorSecond: z.boolean(),
})
const facePhoto = z.strictObject({
  club: line(1000).nullable(),
  /** Place in the lesson’s list of clips; null for a picture of its own. */
  clip: index.nullable().default(null),
  picture: hashSchema.nullable(),
  width: facePhotoSchema.shape.width,
  height: facePhotoSchema.shape.height,
  toeX: number.nullable(),
  toeY: number.nullable(),
  heelX: number.nullable(),
  heelY: number.nullable(),
  lengthMm: facePhotoSchema.shape.lengthMm,
})
const planItem = z.strictObject({
  ...planItemSchema.omit({ drillId: true, pictureId: true }).shape,
  despite: z.strictObject({ limits: text(4000), isMinor: z.boolean(), at: line(40) }).nullable(),
  name: line(200),
  how: text(8000),
  dose: text(1000),
  watchFor: text(2000),
  caution: text(2000),
  picture: hashSchema.nullable(),
})
const lesson = z.strictObject({
  originId,
  date: isoDateSchema,
  title: line(200),
  place: line(200),
  nextFocus: text(2000),
  /** Null where the coach's own notes were not to go along. */
  note: text(50_000).nullable(),
  air: z.strictObject(airSchema.shape),
  micDistanceM: lessonSchema.shape.micDistanceM,
  isMicTold: z.boolean().default(false),
  clock: z
    .strictObject({
      offsetSeconds: z.number(),
      driftPpm: z.number(),
      residualSdSeconds: z.number(),
      how: line(200),
    })
    .nullable(),
  blocks: z
    .array(
      z.strictObject({
        name: line(200),
        focus: text(2000),
        position: z.int().min(-1e9).max(1e9),
        isBaseline: z.boolean(),
        note: text(blockSchema.shape.note.maxLength ?? 20_000).nullable(),
      }),
    )
    .max(1000),
  clips: z.array(clip).max(5000),
  shots: z.array(shot).max(20_000),
  swings: z.array(swing).max(20_000),
  comparisons: z.array(comparison).max(2000),
  facePhotos: z.array(facePhoto).max(500),
  plan: z
    .strictObject({
      items: z.array(planItem).max(200),
      note: text(planSchema.shape.note.maxLength ?? 8000),
      outcome: text(planSchema.shape.outcome.maxLength ?? 8000),
    })
    .nullable(),
})
export type GivenLesson = z.infer<typeof lesson>
export type GivenComparison = z.infer<typeof comparison>

const file = z.strictObject({ sha256: hashSchema, byteLength })
const clipFile = z.strictObject({
  hash: hashSchema,
  extension: z.string().regex(/^\.[a-z0-9]{1,8}$/),
  byteLength,
  /** 1 for a still picture. */
  frameCount: z.int().min(1).max(100_000_000),
  /** Points of the body that were read in it. */
  body: z.strictObject({ ...file.shape, model: line(200), readAt: at }).nullable(),
})
const picture = z.strictObject({
  hash: hashSchema,
  byteLength,
  kind: z.enum(['picture', 'clip']),
  extension: z.enum(['.png', '.jpg', '.mp4']),
  width: z.int().min(1).max(20_000),
  height: z.int().min(1).max(20_000),
  /** Of a clip. */
  poster: file.nullable(),
})
export type GivenPicture = z.infer<typeof picture>

/** Everything that a lesson file tells of a student and the lessons given. */
export const lessonRecordsSchema = z.strictObject({
  writtenAt: at,
  /** Name of the coach who gives it; empty if none is set. */
  coachName: line(200),
  student: z.strictObject({
    originId,
    name: line(200).refine((name) => name.trim() !== '', 'a name'),
    side: sideSchema,
    isMinor: z.boolean(),
    units: unitSystemSchema,
    language: languageSchema,
    /** Null where they were not to go along. */
    limits: text(4000).nullable(),
    note: text(20_000).nullable(),
    consent: z.strictObject({
      ...consentSchema.shape,
      givenBy: line(200),
      recordedAt: at.nullable(),
      coversFace: z.boolean(),
    }),
  }),
  lessons: z.array(lesson).min(1).max(2000),
  cueKinds: z.array(z.strictObject({ key: line(200).min(1), group: line(200), label: line(200) })).max(1000),
  clips: z.array(clipFile).max(20_000),
  pictures: z.array(picture).max(5000),
})
export type LessonRecords = z.infer<typeof lessonRecordsSchema>

/** The first thing read of a file. What a newer version wrote may look different in everything but these two. */
export const aboutHeadSchema = z.looseObject({
  format: z.literal(lessonFileFormat),
  version: z.int().positive(),
})
/** What a lesson file tells of itself. */
export const aboutSchema = z.strictObject({
  format: z.literal(lessonFileFormat),
  version: z.int().min(1).max(lessonFileVersion),
  /** Of this very file. */
  id: originId,
  records: file,
})

/** A file beside the records: its path in the container, SHA-256 and length, bytes. */
export interface FileInside {
  path: string
  sha256: string
  byteLength: number
}

/** Every file that has to be in a lesson file beside the records; each once. */
export const filesInside = ({ clips, pictures }: Pick<LessonRecords, 'clips' | 'pictures'>): FileInside[] => {
  const all = [
    ...clips.map((c) => ({
      path: `clips/${c.hash}${c.extension}`,
      sha256: c.hash,
      byteLength: c.byteLength,
    })),
    ...clips.flatMap(({ body }) =>
      body ? [{ path: `body/${body.sha256}.points`, sha256: body.sha256, byteLength: body.byteLength }] : [],
    ),
    ...pictures.flatMap((p) => [
      { path: `pictures/${p.hash}${p.extension}`, sha256: p.hash, byteLength: p.byteLength },
      ...(p.poster
        ? [
            {
              path: `pictures/${p.poster.sha256}.poster.jpg`,
              sha256: p.poster.sha256,
              byteLength: p.poster.byteLength,
            },
          ]
        : []),
    ]),
  ]
  return [...new Map(all.map((inside) => [inside.path, inside])).values()]
}

/** Bytes of one read frame in a file of body points: its number, then 17 joints of three float32. */
export const bodyFrameBytes = 4 + jointNames.length * 3 * 4
