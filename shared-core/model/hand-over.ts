import { z } from 'zod'
import { defaultSetupError } from '../change/metric-noise.ts'
import { defaultDeviceError } from '../impact/device-error.ts'
import { idSchema, isoDateSchema } from './entities.ts'

/** A picture or clip of the coach's own: the logo, what a drill looks like. Made small when taken in. */
export const coachPictureSchema = z.object({
  id: idSchema,
  kind: z.enum(['picture', 'clip']),
  width: z.number().int().positive(),
  height: z.number().int().positive(),
  byteLength: z.number().int().nonnegative(),
})
export type CoachPicture = z.infer<typeof coachPictureSchema>

/** What a drill says of itself, in the library as in a plan. */
const drillTexts = {
  how: z.string().max(8000),
  dose: z.string().max(1000),
  watchFor: z.string().max(2000),
  caution: z.string().max(2000),
  /** A coach's picture or clip that shows it. */
  pictureId: idSchema.nullable().default(null),
}

/** A drill of the coach's own library. */
export const drillSchema = z.object({
  id: idSchema,
  name: z.string().trim().min(1).max(200),
  /** What it is for: the cue or finding it serves, in words. */
  purpose: z.string().max(1000),
  /** Keys of cue kinds it serves. */
  cueKinds: z.array(z.string()),
  ...drillTexts,
  /** Loads the body: fast, heavy or many swings. Raises the student's limits when chosen. */
  isLoading: z.boolean(),
})
export type Drill = z.infer<typeof drillSchema>

/** One drill of a plan, as it was when the coach chose it. */
export const planItemSchema = z.object({
  drillId: idSchema.nullable(),
  name: z.string().max(200),
  ...drillTexts,
  isLoading: z.boolean(),
  /** It loads the body and was taken in knowing of this: what the student's card said then, and when. */
  despite: z
    .object({ limits: z.string().max(4000), isMinor: z.boolean(), at: z.string().max(40) })
    .nullable()
    .default(null),
})
export type PlanItem = z.infer<typeof planItemSchema>

/** What a student practises until the next lesson, and how it went. */
export const planSchema = z.object({
  lessonId: idSchema,
  items: z.array(planItemSchema),
  note: z.string().max(8000),
  /** How it went, asked when the next lesson opens. */
  outcome: z.string().max(8000),
})
export type Plan = z.infer<typeof planSchema>

/** The composer's draft: what goes into the package and in which order. */
export const handOverDraftSchema = z.object({
  lessonId: idSchema,
  message: z.string().max(20_000),
  swings: z.array(
    z.object({
      viewId: idSchema,
      caption: z.string().max(2000),
      /** Moments shown as stills and held in the clip. */
      momentIds: z.array(idSchema),
      withClip: z.boolean(),
    }),
  ),
  comparisonIds: z.array(idSchema),
  /** Sentences of the report the coach keeps or edited, by key. */
  findings: z.array(z.object({ key: z.string(), sentence: z.string().max(2000), isShown: z.boolean() })),
  talkThroughIds: z.array(idSchema),
  withPlan: z.boolean(),
  maxHeight: z.union([z.literal(1080), z.literal(720)]),
  /** Divider of real speed in the clips: 8 means 1/8 of real speed. */
  slowBy: z.number().min(1).max(32),
  coachName: z.string().max(200),
  accent: z.string().max(20),
  logoId: idSchema.nullable().default(null),
})
export type HandOverDraft = z.infer<typeof handOverDraftSchema>

/** A package that was written. */
export const handOverRecordSchema = z.object({
  id: idSchema,
  lessonId: idSchema,
  writtenAt: z.string(),
  folder: z.string(),
  zip: z.string(),
  byteLength: z.number().int(),
  draft: handOverDraftSchema,
  /** Set when it was written without recorded consent: who said yes. */
  consentSaidBy: z.string().nullable(),
  /** What the package went without, in words for the coach. */
  remarks: z.array(z.string()),
})
export type HandOverRecord = z.infer<typeof handOverRecordSchema>

/** What a coach writes again and again. */
export const handOverTemplateSchema = z.object({
  id: idSchema,
  name: z.string().trim().min(1).max(200),
  message: z.string().max(20_000),
  slowBy: z.number().min(1).max(32),
  maxHeight: z.union([z.literal(1080), z.literal(720)]),
  withPlan: z.boolean(),
})
export type HandOverTemplate = z.infer<typeof handOverTemplateSchema>

/** The coach talking over the Stage, recorded. */
export const talkThroughSchema = z.object({
  id: idSchema,
  lessonId: idSchema,
  name: z.string(),
  durationSeconds: z.number(),
  recordedAt: z.string(),
})
export type TalkThrough = z.infer<typeof talkThroughSchema>

/** What the Ledger speaks of: one swing, its block, the whole lesson. */
export const ledgerFaces = ['swing', 'block', 'lesson'] as const
export type LedgerFace = (typeof ledgerFaces)[number]

/** What a coach sets once. */
export const settingsSchema = z.object({
  coachName: z.string().max(200),
  coachAccent: z.string().max(20),
  coachLogoId: idSchema.nullable(),
  theme: z.enum(['system', 'light', 'dark']),
  micDistanceM: z.number().min(0).max(100),
  frameMemoryMb: z.number().min(64).max(8192),
  ffmpegPath: z.string().nullable(),
  /** Where a backup is made every day; null while none is chosen. */
  backupFolder: z.string().nullable(),
  /** Where the last hand-over went; null before the first one. */
  handOverFolder: z.string().nullable(),
  /** One-sigma errors of the device, as shares (0.01 = 1 %) or units. */
  device: z.object({
    ballSpeedShare: z.number().min(0).max(0.2),
    clubSpeedShare: z.number().min(0).max(0.2),
    launchDeg: z.number().min(0).max(10),
    spinShare: z.number().min(0).max(0.5),
    carryShare: z.number().min(0).max(0.2),
  }),
  /** Error of one set-up of the device, the same for all shots until it is placed anew: one sigma, as shares. */
  setup: z.object({
    ballSpeedShare: z.number().min(0).max(0.2),
    clubSpeedShare: z.number().min(0).max(0.2),
    carryShare: z.number().min(0).max(0.2),
  }),
  /** Changes below this are not worth having, by metric; empty uses the defaults. */
  margins: z.record(z.string(), z.number()),
  ledgerFace: z.enum(ledgerFaces),
})
export type Settings = z.infer<typeof settingsSchema>

/** The settings of a new library. */
export const defaultSettings: Settings = {
  coachName: '',
  coachAccent: '',
  coachLogoId: null,
  theme: 'system',
  micDistanceM: 3,
  frameMemoryMb: 512,
  ffmpegPath: null,
  backupFolder: null,
  handOverFolder: null,
  device: defaultDeviceError,
  setup: defaultSetupError,
  margins: {},
  ledgerFace: 'swing',
}

/** A student and their lessons in a line each. */
export const rosterEntrySchema = z.object({
  id: idSchema,
  name: z.string(),
  side: z.enum(['right', 'left']),
  isMinor: z.boolean(),
  /** What the card lacks for filming and handing over, in a few words; null if nothing. */
  consentGap: z.string().nullable(),
  /** The colleague whose lesson file brought the student (empty if the file names none); null for a student of one's own. */
  givenBy: z.string().nullable(),
  lessons: z.array(
    z.object({
      id: idSchema,
      date: isoDateSchema,
      title: z.string(),
      swingCount: z.number().int(),
      clipCount: z.number().int(),
      shotCount: z.number().int(),
      lastHandOverAt: z.string().nullable(),
    }),
  ),
})
export type RosterEntry = z.infer<typeof rosterEntrySchema>
