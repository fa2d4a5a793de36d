import fs from 'node:fs'
import path from 'node:path'
import { deflateRawSync } from 'node:zlib'
import { sourceFrameOn, type SourceTimeLine } from '../../../shared-core/hand-over/slow-clip-plan.ts'
import { sayOrNull } from '../../../shared-core/wording/phrase.ts'
import type { LibraryContext } from '../context.ts'
import type { RunOptions } from '../media/run-ffmpeg.ts'
import { openLesson } from '../queries/open-lesson.ts'
import type { Size } from './clip-sizes.ts'
import type { ClipSource } from './clip-source.ts'
import type { CoverReport } from './cover-count.ts'
import { draftOf } from './draft.ts'
import { clipBytes, frameCost, type FrameCost } from './estimate.ts'
import { pageHtml } from './page-html.ts'
import { pageOfPlan } from './page-of-plan.ts'
import { coversOf, handOverPlan, lackingFor, stillsOf, type HandOverPlan } from './plan.ts'
import {
  ByContent,
  contentOf,
  madeStill,
  packageScale,
  sizeOf,
  sourceOf,
  type PlannedStill,
  type Still,
} from './stills.ts'
import { lessonJson, shotsCsv } from './student-data.ts'

/** JPEG bytes grow with this power of the area: measured on the demo lesson's pictures. */
const bytesByArea = 0.68

const packed = (text: string): number => deflateRawSync(text).length
const base64Bytes = (text: string | null): number => (text?.length ?? 0) * 0.75

const stills = new ByContent<Still>(400)
const costs = new ByContent<FrameCost>(400)

export interface HandOverPreview {
  html: string
  /** Null where nothing was weighed. */
  estimatedBytes: number | null
  /** What each clip takes of it, by its view's or its comparison's id. */
  clips: { id: string; bytes: number }[]
  needsConsent: string | null
  covers: CoverReport | null
}

/**
 * The page as it would be written, with small pictures and without clips, and about how large the zip would be.
 * `isQuick`: at once, with nothing made for it: pictures that are not made yet are stood for by the clip's poster, and
 * nothing is weighed.
 */
export const previewOf = async (
  context: LibraryContext,
  lessonId: string,
  isQuick = false,
): Promise<HandOverPreview> => {
  const lesson = openLesson(context, lessonId)
  const draft = draftOf(context, lessonId)
  const report = await context.reports.lesson(lessonId)
  const plan = handOverPlan(context, { lesson, draft, report })
  const programs = await context.mediaPrograms()
  const pictures = new Map<PlannedStill, Still>()
  for (const still of stillsOf(plan)) {
    const from = contentOf(still, 'preview')
    const make = () => madeStill(still, 'preview', { programs, clipName: sourceOf(still).clipName })
    pictures.set(
      still,
      isQuick ? (stills.ready(from) ?? standIn(context, still)) : await stills.get(from, make),
    )
  }
  const html = await pageHtml(pageOfPlan(plan, pictures, false))
  const seen = {
    html,
    needsConsent: sayOrNull(lackingFor(plan, context.now())),
    covers: coversOf(plan),
  }
  if (isQuick) return { ...seen, estimatedBytes: null, clips: [] }
  const clips = await weighedClips(plan, (clipName) => ({ programs, clipName }))
  const bytes = [
    ...clips.map((clip) => clip.bytes),
    pictureBytes(plan, pictures, context.printPdf !== null),
    ...plan.talks.map((talk) => talk.byteLength),
    ...(plan.practice?.drills ?? []).map(({ picture }) => (picture?.file ? picture.files.byteLength : 0)),
    packed(html.replace(/base64,[A-Za-z0-9+/=]+/g, '')),
    packed(shotsCsv(lesson, report)),
    packed(lessonJson(lesson, report, context.now().toISOString())),
  ]
  return {
    ...seen,
    estimatedBytes: Math.round(bytes.reduce((sum, n) => sum + n, 0)),
    clips: clips.map(({ id, bytes: of }) => ({ id, bytes: Math.round(of) })),
  }
}

/** The clip's poster in the place of a picture that is not made yet. */
const standIn = (context: LibraryContext, still: PlannedStill): Still => {
  const poster = context.paths.poster(path.parse(sourceOf(still).file).name)
  return {
    jpegBase64: fs.existsSync(poster) ? fs.readFileSync(poster).toString('base64') : '',
    ...sizeOf(still, 'preview'),
  }
}

const movingFrames = (line: SourceTimeLine, outputFrames: number): number => {
  let moving = 0
  for (let i = 1; i < outputFrames; i++) {
    if (sourceFrameOn(line, i) !== sourceFrameOn(line, i - 1)) moving += 1
  }
  return moving
}

/** About how many bytes a source takes in a clip of that many frames. */
const weighedSource = async (
  source: ClipSource,
  size: Size,
  line: SourceTimeLine,
  clip: { outputFrames: number; holds: number },
  options: RunOptions,
): Promise<number> => {
  const moving = movingFrames(line, clip.outputFrames)
  const step = Math.max(1, Math.round((line.toFrame - line.fromFrame) / Math.max(1, moving)))
  const cost = await costs.get(
    [source.file, source.adjustments, size, line.fromFrame, line.toFrame, step],
    () => frameCost(source, size, step, options),
  )
  return clipBytes(cost, { moving, standing: clip.outputFrames - moving, holds: clip.holds })
}

const weighedClips = async (
  plan: HandOverPlan,
  optionsFor: (clipName: string) => RunOptions,
): Promise<HandOverPreview['clips']> => {
  const weighed: HandOverPreview['clips'] = []
  for (const { viewId, clip } of plan.swings) {
    if (!clip) continue
    const { source, width, height, timeLine, outputFrames, holds } = clip.made
    const of = { outputFrames, holds: holds.length }
    const options = optionsFor(source.clipName)
    weighed.push({
      id: viewId,
      bytes: await weighedSource(source, { width, height }, timeLine, of, options),
    })
  }
  for (const { id, made } of plan.comparisons) {
    let bytes = 0
    for (const [i, source] of made.pair.entries()) {
      const of = { outputFrames: made.outputFrames, holds: 1 }
      const options = optionsFor(source.clipName)
      bytes += await weighedSource(source, made.sizes[i]!, made.timeLines[i]!, of, options)
    }
    weighed.push({ id, bytes })
  }
  return weighed
}

/** About how many bytes the pictures take in the page and, once more, in the printed part. */
const pictureBytes = (
  plan: HandOverPlan,
  pictures: ReadonlyMap<PlannedStill, Still>,
  isPrinted: boolean,
): number => {
  const full = (still: PlannedStill) =>
    base64Bytes(pictures.get(still)!.jpegBase64) * Math.max(1, packageScale(still)) ** (2 * bytesByArea)
  const fileBytes = (file: string) => fs.statSync(file).size
  const times = isPrinted ? 2 : 1
  const sizes = [
    ...plan.swings.flatMap(({ stills: captioned, clip }) => [
      ...captioned.map(({ still }) => full(still) * times),
      // The poster stands in the page alone.
      clip?.poster ? full(clip.poster.still) : 0,
    ]),
    // Poster and printed picture stand in the page both.
    ...plan.comparisons.map(({ still }) => full(still) * (times + 1)),
    ...(plan.logo ? [fileBytes(plan.logo.file) * times] : []),
    ...(plan.practice?.drills ?? []).map(({ picture }) =>
      picture ? fileBytes(picture.files.still) * times : 0,
    ),
  ]
  return sizes.reduce((sum, n) => sum + n, 0)
}
