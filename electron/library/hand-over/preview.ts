import fs from 'node:fs'
import path from 'node:path'
import { deflateRawSync } from 'node:zlib'
import { missingConsent } from '../../../shared-core/model/consent.ts'
import { localDay } from '../../../shared-core/model/local-day.ts'
import { handOverPage, type PageClip } from '../../../shared-core/hand-over/page.ts'
import { comparisonPlan, slowClipPlan, sourceFrameOn } from '../../../shared-core/hand-over/slow-clip-plan.ts'
import type { SourceTimeLine } from '../../../shared-core/hand-over/slow-clip-plan.ts'
import type { LibraryContext } from '../context.ts'
import type { RunOptions } from '../media/run-ffmpeg.ts'
import { openLesson } from '../queries/open-lesson.ts'
import { CoverCount, type CoverReport } from './cover-count.ts'
import { draftOf } from './draft.ts'
import { clipBytes, frameCost, type FrameCost } from './estimate.ts'
import { gatherPage, type Makers } from './gather.ts'
import type { ClipSource } from './clip-source.ts'
import { comparisonSizes, sizeWithin } from './clip-sizes.ts'
import {
  ByContent,
  stillContent,
  pairStillHeightPx,
  stillLongestPx,
  stillOfPair,
  stillOfSource,
  type Still,
} from './stills.ts'
import { lessonJson, shotsCsv } from './student-data.ts'
import { talkClip } from './talk.ts'
import { sayOrNull } from '../../../shared-core/wording/phrase.ts'

const smallPx = 560
const smallPairPx = 280
/** JPEG bytes grow with this power of the area: measured on the demo lesson's pictures. */
const bytesByArea = 0.68

/** How many times more bytes a still takes where it is this much longer. */
const growth = (longer: number): number => Math.max(1, longer) ** (2 * bytesByArea)
const packed = (text: string): number => deflateRawSync(text).length

const stills = new ByContent<Still>(400)
const costs = new ByContent<FrameCost>(400)

const movingFrames = (line: SourceTimeLine, outputFrames: number): number => {
  let moving = 0
  for (let i = 1; i < outputFrames; i++) {
    if (sourceFrameOn(line, i) !== sourceFrameOn(line, i - 1)) moving += 1
  }
  return moving
}

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
  const programs = await context.mediaPrograms()
  const optionsFor = (clipName: string): RunOptions => ({ programs, clipName })
  let bytes = 0
  const coverCount = new CoverCount()
  const swingBytes: number[] = []
  const comparisonBytes: number[] = []
  const standIn = (source: ClipSource, longest: number): Still => {
    const poster = context.paths.poster(path.parse(source.file).name)
    const scale = longest / Math.max(source.width, source.height)
    return {
      jpegBase64: fs.existsSync(poster) ? fs.readFileSync(poster).toString('base64') : '',
      width: Math.round(source.width * scale),
      height: Math.round(source.height * scale),
    }
  }
  const weigh = async (
    source: ClipSource,
    size: { width: number; height: number },
    line: SourceTimeLine,
    outputFrames: number,
    holds: number,
  ) => {
    const moving = movingFrames(line, outputFrames)
    const step = Math.max(1, Math.round((line.toFrame - line.fromFrame) / Math.max(1, moving)))
    const cost = await costs.get([source.file, source.levels, size, line.fromFrame, line.toFrame, step], () =>
      frameCost(source, size, step, optionsFor(source.clipName)),
    )
    const weight = clipBytes(cost, { moving, standing: outputFrames - moving, holds })
    bytes += weight
    return weight
  }
  const fullOf = ({ width, height }: { width: number; height: number }) => {
    const longest = Math.max(width, height)
    return growth(Math.min(longest, stillLongestPx) / Math.min(longest, smallPx))
  }
  const pairGrowth = (pair: readonly { height: number }[]) => {
    const tallest = Math.max(...pair.map((source) => source.height))
    return Math.min(tallest, pairStillHeightPx) / Math.min(tallest, smallPairPx)
  }
  const imageBytes = (still: Still, factor: number) => still.jpegBase64.length * 0.75 * factor
  const makers: Makers = {
    still: async (source, frame) => {
      coverCount.add(source, frame)
      const from = ['one', smallPx, stillContent(source, frame)]
      if (isQuick) return stills.ready(from) ?? standIn(source, smallPx)
      const still = await stills.get(from, () =>
        stillOfSource(source, frame, smallPx, optionsFor(source.clipName)),
      )
      // In the page and once more in the printed part.
      bytes += imageBytes(still, fullOf(source)) * (context.printPdf ? 2 : 1)
      return still
    },
    pairStill: async (pair, frames, layout, label) => {
      pair.forEach((source, i) => coverCount.add(source, frames[i]!))
      const from = ['two', smallPairPx, layout, pair.map((source, i) => stillContent(source, frames[i]!))]
      if (isQuick) return stills.ready(from) ?? standIn(pair[0], smallPairPx)
      const still = await stills.get(from, () =>
        stillOfPair(pair, frames, smallPairPx, layout, optionsFor(label)),
      )
      bytes += imageBytes(still, growth(pairGrowth(pair))) * (context.printPdf ? 3 : 2)
      return still
    },
    clip: async (source) => {
      const size = sizeWithin(source, draft.maxHeight)
      const plan = slowClipPlan(source.time, size)
      coverCount.add(source, plan.timeLine.fromFrame, plan.timeLine.toFrame)
      if (!isQuick) {
        swingBytes.push(await weigh(source, size, plan.timeLine, plan.outputFrames, plan.holds.length))
      }
      return { ...plan, ...size }
    },
    comparison: async (pair, lock, _file, choices) => {
      const { sizes, width, height } = comparisonSizes(pair, draft.maxHeight, choices.arrangement)
      const plan = comparisonPlan([pair[0].time, pair[1].time], lock, choices, { width, height })
      pair.forEach((source, i) => {
        const { fromFrame, toFrame } = plan.timeLines[i]!
        coverCount.add(source, fromFrame, toFrame)
      })
      let both = 0
      for (const [i, source] of isQuick ? [] : pair.entries()) {
        both += await weigh(source, sizes[i]!, plan.timeLines[i]!, plan.outputFrames, 1)
      }
      comparisonBytes.push(both)
      return {
        ...plan,
        width,
        height,
        holds: [{ frame: lock[0], atOutputFrame: plan.lockedAt, lasts: plan.lasts }],
      }
    },
    talk: (id, _file, _label, say) => {
      const talk = talkClip(context, id, say)
      if (!talk) return Promise.resolve(null)
      bytes += talk.byteLength
      return Promise.resolve(talk.clip)
    },
    drillClip: (clip) => {
      bytes += clip.byteLength
      return false
    },
  }
  const content = await gatherPage(context, { lesson, draft, report }, makers)
  const asPictures = (clips: PageClip[]) => clips.map((clip) => ({ ...clip, file: null }))
  for (const { clip } of content.swings) {
    if (clip?.posterBase64) bytes += clip.posterBase64.length * 0.75 * fullOf(clip)
  }
  const drillPictures = content.plan?.items.flatMap((item) => item.picture ?? []) ?? []
  for (const { dataUri } of [content.logo ?? [], drillPictures].flat()) {
    bytes += dataUri.length * 0.75 * (context.printPdf ? 2 : 1)
  }
  const html = handOverPage({
    ...content,
    comparisons: asPictures(content.comparisons),
    talkThroughs: asPictures(content.talkThroughs),
    swings: content.swings.map((s) => ({ ...s, clip: s.clip ? { ...s.clip, file: null } : null })),
  })
  const covers = coverCount.report(lesson.student, content.talkThroughs.length)
  const needsConsent =
    sayOrNull(missingConsent(lesson.student, localDay(context.now()))) ?? covers?.lacking ?? null
  if (isQuick) return { html, estimatedBytes: null, clips: [], needsConsent, covers }
  bytes += packed(html.replace(/base64,[A-Za-z0-9+/=]+/g, ''))
  bytes += packed(shotsCsv(lesson, report)) + packed(lessonJson(lesson, report, context.now().toISOString()))
  const withClip = draft.swings.filter((s) => s.withClip).map((s) => s.viewId)
  const compared = draft.comparisonIds.filter((id) => lesson.comparisons.some((c) => c.id === id))
  return {
    html,
    estimatedBytes: Math.round(bytes),
    clips: [
      ...withClip.map((id, i) => ({ id, bytes: Math.round(swingBytes[i] ?? 0) })),
      ...compared.map((id, i) => ({ id, bytes: Math.round(comparisonBytes[i] ?? 0) })),
    ],
    needsConsent,
    covers,
  }
}
