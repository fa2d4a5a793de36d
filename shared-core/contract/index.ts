import { z } from 'zod'
import { changes, edits, onRoster, reads } from './call.ts'
import { jointNames } from '../body/joints.ts'
import { toneNames } from '../drawing/tones.ts'
import { custodyCalls, hostCalls } from './custody.ts'
import { exchangeCalls } from './exchange.ts'
import {
  airSchema,
  blockSchema,
  cameraViews,
  clipSchema,
  comparisonSchema,
  consentSchema,
  cueKindSchema,
  cueSchema,
  drawingRecordSchema,
  facePhotoSchema,
  followedPointSchema,
  guestPictureSchema,
  idSchema,
  isoDateSchema,
  jobSchema,
  languageSchema,
  lessonSchema,
  openLessonSchema,
  shotSchema,
  sideSchema,
  studentSchema,
  unitSystemSchema,
} from '../model/entities.ts'
import {
  coachPictureSchema,
  drillSchema,
  handOverDraftSchema,
  handOverRecordSchema,
  handOverTemplateSchema,
  planSchema,
  rosterEntrySchema,
  settingsSchema,
  talkThroughSchema,
} from '../model/hand-over.ts'
import { liveStateSchema } from '../model/live.ts'
import { talkTimelineSchema } from '../hand-over/talk-timeline.ts'
import type { LessonReport } from '../report/lesson-report.ts'
import type { SeasonView } from '../report/season-view.ts'
import type { WhatWorks } from '../students/what-works.ts'
import { readShotsOptionsSchema } from '../shots/read-shots-options.ts'
import type { ShotsReading } from '../shots/read-shots.ts'

const nothing = z.object({})
const ok = z.object({})
const withId = z.object({ id: idSchema })
const lessonId = z.object({ lessonId: idSchema })
const job = z.object({ jobId: idSchema })
/**
 * What shared-core itself has built and typed: carried as it is, known by the parts it can't be without. It never comes
 * from a file or from a window.
 */
const carried = <T extends object>(...parts: (keyof T & string)[]) =>
  z.custom<T>(
    (value) =>
      typeof value === 'object' && value !== null && parts.every((part) => Object.hasOwn(value, part)),
    `an answer with ${parts.join(', ')}`,
  )
/** The note as it was when typing began: what came from another window meanwhile is kept beside what was typed. */
const noteBefore = z.string().optional()
/** Going over a step that another window made needs the revision at which the coach was told. */
const step = z.object({ lessonId: idSchema, confirmedRevision: z.number().int().nullable().default(null) })
const stepped = z.object({ label: z.string().nullable() })

const bodyPlace = z.object({
  clipId: idSchema,
  frame: z.number().int().nonnegative(),
  joint: z.enum(jointNames),
})

const markPlace = { frame: z.number().int().nonnegative(), x: z.number(), y: z.number() }

const everyDayChange = 'records on the roster are edited in place, not undone'
const jobsRunOn = 'what a job took in is removed by removing the clip or the shots'
const forGood = 'deletion is real'

/** What was deleted, and what still holds something of it. */
const deletionReceipt = z.object({
  lessons: z.number().int(),
  clips: z.number().int(),
  filesDeleted: z.number().int(),
  bytesDeleted: z.number(),
  packagesDeleted: z.number().int(),
  stays: z.array(z.object({ where: z.string(), why: z.string() })),
})

/** Every call the library process answers. Handlers, preload, command line and tests derive from it. */
export const contract = {
  ...custodyCalls,
  ...exchangeCalls,
  ...hostCalls,
  'roster.list': reads(nothing, z.array(rosterEntrySchema)),
  'library.info': reads(
    nothing,
    z.object({
      folder: z.string(),
      isEmpty: z.boolean(),
      schemaVersion: z.number(),
      demoOffered: z.boolean(),
    }),
  ),
  'library.check': reads(
    nothing,
    z.object({ lines: z.array(z.object({ ok: z.boolean(), text: z.string() })), isSound: z.boolean() }),
  ),
  'demo.load': onRoster(changes('the demo lesson is deleted like any other', nothing, job)),

  'student.create': onRoster(
    changes(
      everyDayChange,
      z.object({
        name: studentSchema.shape.name,
        side: sideSchema,
        isMinor: z.boolean().default(false),
        units: unitSystemSchema.default('mph-yd'),
        language: languageSchema.default('en'),
      }),
      withId,
    ),
  ),
  'student.get': reads(withId, studentSchema),
  'student.update': onRoster(
    changes(
      everyDayChange,
      z.object({
        id: idSchema,
        patch: studentSchema.omit({ id: true, consent: true }).partial(),
      }),
      ok,
    ),
  ),
  'student.consent': onRoster(
    changes(
      everyDayChange,
      z.object({ id: idSchema, consent: consentSchema.omit({ recordedAt: true }) }),
      ok,
    ),
  ),
  /** Deletes everything about the student: lessons, clips, numbers, hand-overs kept in the library. */
  'student.deleteForGood': onRoster(
    changes(
      forGood,
      z.object({ id: idSchema, typedName: z.string(), withPackages: z.boolean().default(false) }),
      deletionReceipt,
    ),
  ),
  /** What deleting would take away, and the written packages that are still where they were written. */
  'deletion.look': reads(
    z.object({ studentId: idSchema }).or(z.object({ lessonId: idSchema })),
    z.object({
      lessons: z.number().int(),
      clips: z.number().int(),
      bytes: z.number(),
      packages: z.array(z.object({ folder: z.string(), isThere: z.boolean() })),
      /** Written for colleagues. */
      lessonFiles: z.array(z.object({ file: z.string(), isThere: z.boolean() })),
      copies: z.array(z.string()),
    }),
  ),

  'lesson.create': onRoster(
    changes(
      everyDayChange,
      z.object({ studentId: idSchema, date: isoDateSchema, title: z.string().max(200).default('') }),
      withId,
    ),
  ),
  'lesson.update': onRoster(
    edits(
      z.object({
        id: idSchema,
        patch: lessonSchema
          .omit({ id: true, studentId: true, air: true })
          .extend({ air: airSchema.partial() })
          .partial(),
        noteBefore,
      }),
      ok,
    ),
  ),
  'lesson.deleteForGood': onRoster(
    changes(forGood, z.object({ id: idSchema, withPackages: z.boolean().default(false) }), deletionReceipt),
  ),
  'lesson.open': reads(lessonId, openLessonSchema),
  /** By how much each camera's sound comes after its picture, as its clips tell it together; a camera that tells nothing is not there. */
  'lesson.soundDelays': reads(
    lessonId,
    z.object({
      delays: z.array(
        z.object({
          camera: z.enum(cameraViews),
          delayMs: z.number(),
          /** One standard deviation. */
          sdMs: z.number().nonnegative(),
          /** Strikes, seen and heard, that agree. */
          strikes: z.number().int().positive(),
          /** From so far off sound takes that long; below nought where the track runs ahead. */
          distanceM: z.number(),
        }),
      ),
    }),
  ),
  'lesson.report': reads(
    z.object({ lessonId: idSchema, units: unitSystemSchema.optional() }),
    carried<LessonReport>('units', 'shots', 'blocks', 'comparisons', 'findings', 'readingNotes'),
  ),
  /** Still pictures of all the student's lessons, the oldest first. */
  'season.stills': reads(
    z.object({ studentId: idSchema }),
    z.array(
      z.object({
        lessonId: idSchema,
        date: isoDateSchema,
        clipId: idSchema,
        kind: z.string(),
        width: z.number(),
        height: z.number(),
      }),
    ),
  ),
  'season.report': reads(
    z.object({ studentId: idSchema, units: unitSystemSchema.optional() }),
    carried<SeasonView>('units', 'student', 'lessons', 'clubs'),
  ),
  'works.report': reads(
    z.object({ club: z.string().nullable().optional(), units: unitSystemSchema.optional() }),
    carried<WhatWorks>('units', 'clubs', 'rows'),
  ),

  'clips.add': onRoster(
    changes(
      jobsRunOn,
      z.object({
        lessonId: idSchema,
        files: z.array(z.string()).min(1),
        /** What they are called, where the files' own names are none. */
        name: z.string().trim().min(1).max(200).optional(),
        /** What still pictures among them show; guessed by their names where nothing is said. */
        stillKind: clipSchema.shape.stillKind.unwrap().optional(),
        /** Another program may still be writing them: what has changed by the time it was read is not taken in. */
        mayStillGrow: z.boolean().optional(),
      }),
      z.object({ jobIds: z.array(idSchema) }),
    ),
  ),
  'clip.update': edits(
    z.object({
      id: idSchema,
      patch: z
        .object({
          captureRate: z.number().positive(),
          camera: z.enum(cameraViews),
          tiltDeg: clipSchema.shape.tiltDeg,
          pixelsPerMeter: clipSchema.shape.pixelsPerMeter,
          brightness: clipSchema.shape.brightness,
          contrast: clipSchema.shape.contrast,
          isMirrored: z.boolean(),
          /** Of a still picture; its moment is named after it. */
          stillKind: clipSchema.shape.stillKind.unwrap(),
        })
        .partial(),
    }),
    ok,
  ),
  /** The copied file goes once the removal can no longer be undone. */
  'clip.remove': edits(withId, ok),
  /** True timestamps of every frame, seconds from the first frame of the file. */
  'clip.timestamps': reads(withId, z.object({ atSeconds: z.array(z.number()) })),
  /** Peaks of the sound, one pair (min, max) per bin, -1 to 1; empty if there is no sound. */
  'clip.soundPeaks': reads(
    withId,
    z.object({ binSeconds: z.number(), min: z.array(z.number()), max: z.array(z.number()) }),
  ),
  /** Keeps a frame of a film as a still picture of its own. */
  'clip.keepFrame': changes(
    jobsRunOn,
    z.object({ viewId: idSchema, frame: z.number().int().nonnegative() }),
    job,
  ),
  'jobs.list': reads(nothing, z.array(jobSchema)),
  'job.cancel': changes('it only stops work', withId, ok),
  'job.retry': changes(jobsRunOn, withId, ok),

  /** Takes clips and shots in as they arrive, until stopped; goes on by itself after the program ended. */
  'live.start': changes(
    'stopping it undoes it; what arrived is removed like any clip',
    z.object({
      lessonId: idSchema,
      clipsFolder: z.string().min(1),
      shotsPath: z.string().min(1).nullable(),
      /** Also the clips that are in the folder already. */
      takeOld: z.boolean().default(false),
    }),
    ok,
  ),
  'live.stop': changes('starting it undoes it', lessonId, ok),
  'live.state': reads(lessonId, z.object({ state: liveStateSchema.nullable() })),

  /** Reads a file of shot records without keeping anything, so that the coach can say what a column is. */
  'shots.preview': reads(
    z.object({ file: z.string(), options: readShotsOptionsSchema.optional() }),
    carried<ShotsReading>('columns', 'shots', 'problems'),
  ),
  'shots.add': onRoster(
    edits(
      z.object({
        lessonId: idSchema,
        file: z.string(),
        options: readShotsOptionsSchema.optional(),
      }),
      z.object({
        added: z.number().int(),
        alreadyThere: z.number().int(),
        /** Rows that stand twice in the file and were taken once. */
        doubled: z.number().int(),
        pairs: z.number().int(),
        unpairedClips: z.number().int(),
        /** How the order of the shots was found, in words. */
        order: z.string(),
        unmapped: z.array(z.string()),
        problems: z.array(
          z.object({
            line: z.number(),
            column: z.string().nullable(),
            message: z.string(),
            kind: z.enum(['cell', 'row', 'skipped', 'assumed']),
          }),
        ),
      }),
    ),
  ),
  'shot.update': edits(
    z.object({
      id: idSchema,
      patch: shotSchema
        .pick({
          club: true,
          isLeftOut: true,
          leftOutReason: true,
          isTrusted: true,
          impactXMm: true,
          impactYMm: true,
        })
        .partial(),
    }),
    ok,
  ),
  /** The coach's word that the units assumed for this lesson's shots are right. */
  'shots.confirmUnits': edits(lessonId, ok),

  /** Pairs again by the clocks; pairs the coach fixed stay. */
  'pair.run': edits(
    lessonId,
    z.object({ pairs: z.number().int(), unpairedClips: z.number().int(), unpairedShots: z.number().int() }),
  ),
  /** The coach's word on one swing's shot (null: this swing has no shot); the rest is fitted again around it. */
  'pair.set': edits(
    z.object({ swingId: idSchema, shotId: idSchema.nullable(), refit: z.boolean().default(true) }),
    ok,
  ),

  'swing.update': edits(
    z.object({
      ids: z.array(idSchema).min(1),
      patch: z
        .object({
          isStarred: z.boolean(),
          note: z.string().max(20_000),
          blockId: idSchema,
          didAsked: z.boolean().nullable(),
        })
        .partial(),
      noteBefore,
    }),
    ok,
  ),
  /** Shows the same swing from a second clip: the views of `fromSwingId` move to `swingId`. */
  'swing.join': edits(z.object({ swingId: idSchema, fromSwingId: idSchema }), ok),
  'swing.remove': edits(z.object({ ids: z.array(idSchema).min(1) }), ok),
  /** Swishes of a stick or club heard in a view; real seconds from the clip's first frame, the sound's way taken off. */
  'view.swishes': reads(
    withId,
    z.object({
      hasSound: z.boolean(),
      swishes: z.array(
        z.object({
          realSeconds: z.number(),
          frame: z.number().int(),
          /** dB below a full-scale sine. */
          levelDb: z.number(),
          aboveNoiseDb: z.number(),
          pitchHz: z.number(),
        }),
      ),
    }),
  ),
  /** Cuts a clip's part in two: from `atFrame` on it is a swing of its own. */
  'view.cut': edits(
    z.object({ viewId: idSchema, atFrame: z.number().int().positive() }),
    z.object({ swingId: idSchema }),
  ),

  /** A new block begins with this swing and runs to `lastSwingId`, or to the end of the old one. */
  'block.cut': edits(
    z.object({
      lessonId: idSchema,
      beforeSwingId: idSchema,
      lastSwingId: idSchema.optional(),
      name: z.string().max(200).optional(),
    }),
    withId,
  ),
  /** What comes next belongs to a block of its own, with this focus; one that is still empty takes the focus over. */
  'block.begin': edits(z.object({ lessonId: idSchema, focus: blockSchema.shape.focus }), withId),
  /** Joins a block to the one before it. */
  'block.join': edits(withId, ok),
  'block.update': edits(
    z.object({
      id: idSchema,
      patch: blockSchema.pick({ name: true, focus: true, note: true, isBaseline: true }).partial(),
      noteBefore,
    }),
    ok,
  ),

  'moment.place': edits(
    z.object({
      viewId: idSchema,
      name: z.string().trim().min(1).max(60),
      frame: z.number().int().nonnegative(),
    }),
    withId,
  ),
  'moment.move': edits(z.object({ id: idSchema, frame: z.number().int().nonnegative() }), ok),
  'moment.confirm': edits(withId, ok),
  'moment.remove': edits(withId, ok),

  /** Reads the body in the lesson's clips, or in those named: a job for each clip. */
  'body.read': changes(
    'points are read, not edited; proposed moments are undone like any edit',
    z.object({ lessonId: idSchema, clipIds: z.array(idSchema).optional() }),
    z.object({ jobIds: z.array(idSchema) }),
  ),
  /** For each read frame 17 joints as (x, y, score), one after the other; what the coach set by hand is in it. */
  'body.points': reads(
    z.object({ clipId: idSchema }),
    z.object({
      frames: z.array(z.number().int()),
      points: z.array(z.number()),
      corrected: z.array(z.object({ frame: z.number().int(), joint: z.string() })),
    }),
  ),
  'body.correct': edits(bodyPlace.extend({ x: z.number(), y: z.number() }), ok),
  'body.takeBack': edits(bodyPlace, ok),

  /** The points that are followed in a clip; `points` are (x, y, error) for each of `frames`, one after the other. */
  'follow.list': reads(z.object({ clipId: idSchema }), z.array(followedPointSchema)),
  /** Marks a point on one frame and has it followed over the view; its way is a drawing. */
  'follow.begin': edits(
    z.object({
      viewId: idSchema,
      name: z.string().trim().min(1).max(60),
      ...markPlace,
      tone: z.enum(toneNames).default('apricot'),
      widthPx: z.number().min(0.5).max(200).default(4),
    }),
    z.object({ id: idSchema, drawingId: idSchema, jobId: idSchema }),
  ),
  /** The coach's word where it is on a frame; it is followed anew from there, and every mark stays. */
  'follow.mark': edits(withId.extend(markPlace), job),
  'follow.takeBack': edits(withId.extend({ frame: markPlace.frame }), job),
  'follow.again': changes('what it finds is one edit', withId, job),
  'follow.remove': edits(withId, ok),

  'cueKind.list': reads(nothing, z.array(cueKindSchema)),
  'cueKind.save': changes(
    'the coach edits the list of cues in place',
    cueKindSchema.omit({ isOwn: true }),
    ok,
  ),
  'cue.add': edits(cueSchema.omit({ id: true }), withId),
  'cue.update': edits(
    z.object({ id: idSchema, patch: cueSchema.omit({ id: true, momentId: true }).partial(), noteBefore }),
    ok,
  ),
  'cue.remove': edits(withId, ok),

  'drawing.add': edits(
    drawingRecordSchema
      .omit({ id: true, order: true, isHidden: true })
      .extend({ tie: drawingRecordSchema.shape.tie.default(null) }),
    withId,
  ),
  'drawing.update': edits(
    z.object({
      id: idSchema,
      patch: drawingRecordSchema
        .pick({
          shape: true,
          fromFrame: true,
          toFrame: true,
          order: true,
          isHidden: true,
          momentId: true,
          tie: true,
        })
        .partial(),
      /** One of the steps of a movement by keys; steps that follow each other quickly are one edit. */
      isStep: z.boolean().default(false),
    }),
    ok,
  ),
  'drawing.remove': edits(z.object({ ids: z.array(idSchema).min(1) }), ok),
  /** Copies drawings to another view, placed by the same moment; mirrored where the sides differ. */
  'drawing.copyTo': edits(
    z.object({ ids: z.array(idSchema).min(1), viewId: idSchema }),
    z.object({ ids: z.array(idSchema) }),
  ),

  'edits.undo': changes('undo is undone by redo', step, stepped),
  'edits.redo': changes('redo is undone by undo', step, stepped),

  /** A picture of any lesson, to be set beside one of another lesson of the same student. */
  'view.asGuest': reads(withId, guestPictureSchema),
  /** Both pictures are of one student, at least one of them of this lesson. */
  'comparison.save': edits(comparisonSchema.extend({ id: idSchema.nullable() }), withId),
  'comparison.remove': edits(withId, ok),

  /** One photo of a club's face in a lesson; a later one of the same club takes its place. */
  'facePhoto.save': edits(facePhotoSchema.extend({ id: idSchema.nullable() }), withId),
  'facePhoto.remove': edits(withId, ok),

  'drill.list': reads(nothing, z.array(drillSchema)),
  'drill.save': changes(
    'the coach edits drills in place',
    drillSchema.extend({ id: idSchema.nullable() }),
    withId,
  ),
  'drill.remove': changes('the coach edits drills in place', withId, ok),
  /** Takes a picture or a short clip of the coach's own in, made small; unused ones go by themselves, a day later. */
  'coachPicture.add': changes(
    'a picture that nothing uses goes by itself',
    z.object({ file: z.string(), use: z.enum(['logo', 'drill']) }),
    coachPictureSchema,
  ),
  'coachPicture.get': reads(withId, z.object({ picture: coachPictureSchema.nullable() })),
  'plan.get': reads(
    lessonId,
    z.object({ plan: planSchema, previous: z.object({ plan: planSchema, date: isoDateSchema }).nullable() }),
  ),
  'plan.save': changes('the composer saves as the coach types', planSchema, ok),

  'handOver.draft': reads(lessonId, handOverDraftSchema),
  'handOver.saveDraft': changes('the composer saves as the coach types', handOverDraftSchema, ok),
  /** `isQuick`: at once, with stand-ins for pictures that are not made yet, and without the size. */
  'handOver.preview': reads(
    z.object({ lessonId: idSchema, isQuick: z.boolean().default(false) }),
    z.object({
      html: z.string(),
      estimatedBytes: z.number().nullable(),
      /** What each clip takes of it, by its view's or its comparison's id. */
      clips: z.array(z.object({ id: idSchema, bytes: z.number() })),
      needsConsent: z.string().nullable(),
      /** What is to be said of covers; null where they are neither used nor asked for. */
      covers: z
        .object({
          frames: z.number().int(),
          uncovered: z.number().int(),
          empty: z.number().int(),
          isAsked: z.boolean(),
          sentence: z.string(),
          lacking: z.string().nullable(),
        })
        .nullable(),
    }),
  ),
  'handOver.write': changes(
    'a written package stays as sent',
    z.object({ lessonId: idSchema, folder: z.string(), consentSaidBy: z.string().nullable() }),
    job,
  ),
  'handOver.list': reads(lessonId, z.array(handOverRecordSchema)),
  'handOver.templates': reads(nothing, z.array(handOverTemplateSchema)),
  'handOver.saveTemplate': changes(
    'templates are edited in place',
    handOverTemplateSchema.extend({ id: idSchema.nullable() }),
    withId,
  ),
  'handOver.removeTemplate': changes('the window asks before it removes one', withId, ok),

  'talk.list': reads(lessonId, z.array(talkThroughSchema)),
  /** Turns a recording (sound and what was on the Stage, as written by the window) into one MP4. */
  'talk.save': changes(
    'a recording is removed, not undone',
    z.object({
      lessonId: idSchema,
      name: z.string().max(200),
      soundFile: z.string(),
      timeline: talkTimelineSchema,
    }),
    job,
  ),
  'talk.remove': changes('a recording is removed, not undone', withId, ok),

  'settings.get': reads(nothing, settingsSchema),
  'settings.set': changes('settings are edited in place', settingsSchema.partial(), ok),

  /** For the media protocol in main: the file behind an id. Not offered to the window by the preload. */
  'media.resolve': reads(
    z.object({
      of: z.enum(['clip', 'coach']).default('clip'),
      clipId: idSchema,
      kind: z.enum(['original', 'proxy', 'play', 'poster', 'strip']),
    }),
    z.object({ file: z.string(), type: z.string() }),
  ),
} as const

/** The type of all calls. */
export type Contract = typeof contract
/** Every call that a window or the command line can make. */
export type CallName = keyof Contract

/** What a caller may pass; defaults are still to be filled in. */
export type CallInput<N extends CallName> = z.input<Contract[N]['input']>

/** What a handler gets: the input with its defaults. */
export type CallParsed<N extends CallName> = z.output<Contract[N]['input']>

/** What a call answers. */
export type CallOutput<N extends CallName> = z.output<Contract[N]['output']>

/** What handlers in the library process look like: parsed input in, output (or a promise of it) out. */
export type Handlers = {
  [N in Exclude<CallName, keyof typeof hostCalls>]: (
    input: CallParsed<N>,
  ) => CallOutput<N> | Promise<CallOutput<N>>
}

/** The handlers of the calls with these prefixes ("moment" for `moment.place`): what one file of handlers answers. */
export type HandlersNamed<Prefix extends string> = Pick<
  Handlers,
  Extract<keyof Handlers, `${Prefix}.${string}`>
>

/** What clients see. */
export type Ask = <N extends CallName>(name: N, input: CallInput<N>) => Promise<CallOutput<N>>

/** Calls the window may not make; main makes them for the media protocol. */
export const notForWindows: readonly CallName[] = ['media.resolve']

/** Events from the library process to every window. */
export const events = {
  'job.changed': jobSchema,
  'live.changed': liveStateSchema,
  'lesson.changed': z.object({ lessonId: idSchema, revision: z.number().int() }),
  'roster.changed': z.object({}),
  'settings.changed': settingsSchema,
  /** The folder of the library went, came back, or another one stands in its place (it is opened anew then). */
  /** Another library stands in this one's place, or this one at another: windows begin anew. */
  'library.opened': z.object({ folder: z.string() }),
  /** How far restoring or moving the library is. */
  'library.progress': z.object({ doing: z.string(), progress: z.number() }),
  'library.place': z.object({ isThere: z.boolean(), isReplaced: z.boolean() }),
} as const
/** Every event that the library can raise. */
export type EventName = keyof typeof events

/** What comes with an event. */
export type EventBody<N extends EventName> = z.output<(typeof events)[N]>
