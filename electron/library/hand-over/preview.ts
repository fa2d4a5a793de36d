import { handOverPage, type PageClip } from '../../../shared-core/hand-over/page.ts'
import { comparisonPlan, slowClipPlan, sourceFrameOn } from '../../../shared-core/hand-over/slow-clip-plan.ts'
import type { SourceTimeLine } from '../../../shared-core/hand-over/slow-clip-plan.ts'
import type { LibraryContext } from '../library.ts'
import type { RunOptions } from '../media/run-ffmpeg.ts'
import { lessonView } from '../queries/lesson-view.ts'
import { reportOfLesson } from '../queries/report-lesson.ts'
import { draftOf } from '../handlers/hand-over.ts'
import { missingConsent } from './consent.ts'
import { clipBytes, frameCost, type FrameCost } from './estimate.ts'
import { gatherPage, type Makers } from './gather.ts'
import { comparisonSizes, sizeWithin, type ClipSource } from './slow-clip.ts'
import { ByContent, stillContent, stillOfPair, stillOfSource, type Still } from './stills.ts'
import { talkClip } from './talk.ts'

const smallPx = 560
const smallPairPx = 280
/** Bytes of a full still per byte of a small one: measured on the demo lesson's pictures, about the areas' ratio^0.8. */
const fullPerSmall = 3.1
const pairFullPerSmall = 3.6
/** How far plain text of the page shrinks in the zip. */
const textShare = 0.3

const stills = new ByContent<Still>(400)
const costs = new ByContent<FrameCost>(400)

const movingFrames = (line: SourceTimeLine, outputFrames: number): number => {
  let moving = 0
  for (let i = 1; i < outputFrames; i++) {
    if (sourceFrameOn(line, i) !== sourceFrameOn(line, i - 1)) moving += 1
  }
  return moving
}

/** The page as it would be written, with small pictures and without clips, and about how large the zip would be. */
export const previewOf = async (
  context: LibraryContext,
  lessonId: string,
): Promise<{ html: string; estimatedBytes: number; needsConsent: string | null }> => {
  const lesson = lessonView(context, lessonId)
  const draft = draftOf(context, lessonId)
  const report = reportOfLesson(context, lessonId)
  const programs = await context.mediaPrograms()
  const optionsFor = (clipName: string): RunOptions => ({ programs, clipName })
  let bytes = 0
  const weigh = async (
    source: ClipSource,
    size: { width: number; height: number },
    line: SourceTimeLine,
    outputFrames: number,
    holds: number,
  ) => {
    const moving = movingFrames(line, outputFrames)
    const step = Math.max(1, Math.round((line.toFrame - line.fromFrame) / Math.max(1, moving)))
    const cost = await costs.get([source.file, size, line.fromFrame, line.toFrame, step], () =>
      frameCost(source, size, step, optionsFor(source.clipName)),
    )
    bytes += clipBytes(cost, { moving, standing: outputFrames - moving, holds })
  }
  const imageBytes = (still: Still, factor: number) => still.jpegBase64.length * 0.75 * factor
  const makers: Makers = {
    still: async (source, frame) => {
      const still = await stills.get(['one', smallPx, stillContent(source, frame)], () =>
        stillOfSource(source, frame, smallPx, optionsFor(source.clipName)),
      )
      // In the page and once more in the printed part.
      bytes += imageBytes(still, fullPerSmall) * (context.printPdf ? 2 : 1)
      return still
    },
    pairStill: async (pair, frames, label) => {
      const still = await stills.get(
        ['two', smallPairPx, pair.map((source, i) => stillContent(source, frames[i]!))],
        () => stillOfPair(pair, frames, smallPairPx, optionsFor(label)),
      )
      bytes += imageBytes(still, pairFullPerSmall) * (context.printPdf ? 3 : 2)
      return still
    },
    clip: async (source) => {
      const size = sizeWithin(source, draft.maxHeight)
      const plan = slowClipPlan(source.time, size)
      await weigh(source, size, plan.timeLine, plan.outputFrames, plan.holds.length)
      return { ...plan, ...size }
    },
    comparison: async (pair, lock, _file, choices) => {
      const { sizes, width, height } = comparisonSizes(pair, draft.maxHeight)
      const plan = comparisonPlan([pair[0].time, pair[1].time], lock, choices, { width, height })
      for (const [i, source] of pair.entries()) {
        await weigh(source, sizes[i]!, plan.timeLines[i]!, plan.outputFrames, 1)
      }
      return {
        ...plan,
        width,
        height,
        holds: [{ frame: lock[0], atOutputFrame: plan.lockedAt, lasts: plan.lasts }],
      }
    },
    talk: (id) => {
      const talk = talkClip(context, id)
      if (!talk) return Promise.resolve(null)
      bytes += talk.byteLength
      return Promise.resolve(talk.clip)
    },
  }
  const content = await gatherPage(context, { lesson, draft, report }, makers)
  const asPictures = (clips: PageClip[]) => clips.map((clip) => ({ ...clip, file: null }))
  const posters = content.swings.map((s) => s.clip?.posterBase64 ?? '')
  bytes += posters.reduce((sum, poster) => sum + poster.length * 0.75 * fullPerSmall, 0)
  const html = handOverPage({
    ...content,
    comparisons: asPictures(content.comparisons),
    talkThroughs: asPictures(content.talkThroughs),
    swings: content.swings.map((s) => ({ ...s, clip: s.clip ? { ...s.clip, file: null } : null })),
  })
  bytes += html.replace(/base64,[A-Za-z0-9+/=]+/g, '').length * textShare + 20_000
  return {
    html,
    estimatedBytes: Math.round(bytes),
    needsConsent: missingConsent(lesson.student, context.now().toISOString().slice(0, 10)),
  }
}
