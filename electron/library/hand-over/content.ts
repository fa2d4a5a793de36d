import fs from 'node:fs'
import { onMoments, readDrawings, withMotion } from '../../../shared-core/drawing/drawing.ts'
import { headBoxOn } from '../../../shared-core/body/head-box.ts'
import { personOn } from '../../../shared-core/body/person-on.ts'
import { tellableValues } from '../../../shared-core/swing-measures/measured-swing.ts'
import type { ClipSource } from './clip-source.ts'
import type {
  Clip,
  OpenLesson,
  Moment,
  Shot,
  Student,
  Swing,
  View,
} from '../../../shared-core/model/entities.ts'
import { standsAlone } from '../../../shared-core/model/still.ts'
import type { MeasureName } from '../../../shared-core/model/measures.ts'
import { textPxFor } from '../../../shared-core/scene/scene.ts'
import { sceneCues } from '../../../shared-core/scene/scene-cue.ts'
import type { ShotMetric } from '../../../shared-core/units.ts'
import {
  blockIn,
  clubIn,
  dayIn,
  labelIn,
  metricTextIn,
  momentIn,
  numberIn,
  sayIn,
  type Say,
} from '../../../shared-core/wording/say.ts'
import { Problem } from '../../../shared-core/problem.ts'
import type { LessonReport } from '../../../shared-core/report/lesson-report.ts'
import type { LibraryContext } from '../context.ts'
import { msFromImpact, unevenClock } from '../../../shared-core/timing/clip-clock.ts'
import { bodyOfClip } from '../queries/body-of-clip.ts'
import { motionsOf } from '../queries/followed-points.ts'
import { asFloat64 } from '../database/float64.ts'
import * as t from '../database/schema.ts'
import { eq } from 'drizzle-orm'
import { picturesFile } from '../queries/pictures-file.ts'

/** A view with everything around it. */
export interface ViewInLesson {
  view: View
  swing: Swing
  clip: Clip
  shot: Shot | null
  /** Its block, and the day if it is of another lesson. */
  where: string
}

export const findView = (lesson: OpenLesson, viewId: string): ViewInLesson => {
  for (const swing of lesson.swings) {
    const view = swing.views.find((v) => v.id === viewId)
    if (!view) continue
    const clip = lesson.clips.find((c) => c.id === view.clipId)
    const shot = lesson.shots.find((s) => s.id === swing.shotId) ?? null
    // A picture that stands alone is of a day, not of a block.
    const where = standsAlone(lesson, swing)
      ? dayIn(sayIn(lesson.student.language), lesson.lesson.date)
      : (lesson.blocks.find((b) => b.id === swing.blockId)?.name ?? '')
    if (clip) return { view, swing, clip, shot, where }
  }
  const guest = lesson.guests.find((g) => g.swing.views[0]?.id === viewId)
  if (guest) {
    const { swing, clip, shot } = guest
    const say = sayIn(lesson.student.language)
    const block = standsAlone(lesson, guest.swing) ? '' : blockIn(say, guest.blockName)
    const where = [block, dayIn(say, guest.lesson.date)].filter(Boolean).join(', ')
    return { view: swing.views[0]!, swing, clip, shot, where }
  }
  throw new Problem('gone.chosenSwing')
}

const capital = (text: string) => text.charAt(0).toUpperCase() + text.slice(1)

/** "Impact", "Brace, 40 ms before impact": real time, by the capture rate. */
export const momentCaption = (
  moment: Moment,
  view: View,
  clip: Clip,
  atSeconds: ArrayLike<number>,
  say: Say,
): string => {
  const impact = view.moments.find((m) => m.name === 'impact')
  const words = capital(momentIn(say, moment.name))
  if (!impact || impact.id === moment.id) return words
  const real = msFromImpact({ ...clip, atSeconds }, impact.frame, moment.frame)
  const ms = Math.round(Math.abs(real))
  const time = ms < 1000 ? `${ms} ms` : `${numberIn(say, (ms / 1000).toFixed(1))} s`
  if (ms === 0) return words
  return say(real < 0 ? 'clip.beforeImpact' : 'clip.afterImpact', { moment: words, time })
}

/** Frames around the swing that are shown: from a little before the first moment to a little after the last. */
const shownRange = (view: View, clip: Clip): { from: number; to: number } => {
  const frames = view.moments.map((m) => m.frame)
  if (frames.length === 0) return { from: view.fromFrame, to: view.toFrame }
  const margin = Math.round(0.4 * clip.captureRate)
  return {
    from: Math.max(view.fromFrame, Math.min(...frames) - margin),
    to: Math.min(view.toFrame, Math.max(...frames) + margin),
  }
}

/** A view ready to be rendered: the original file, its drawings, cues and captions, and its time line. */
export const clipSource = (
  context: LibraryContext,
  lesson: OpenLesson,
  viewId: string,
  choices: {
    momentIds: readonly string[]
    slowBy: number
    holdSeconds: number
    mirror?: boolean
    /** The picture takes half the page's width. */
    isHalf?: boolean
  },
): ClipSource => {
  const { view, clip } = findView(lesson, viewId)
  const media = context.db.select().from(t.media).where(eq(t.media.hash, clip.hash)).get()!
  // Of a still, what was made of it: upright, in the right colours.
  const file = clip.stillKind === null ? picturesFile(context.paths, media) : context.paths.proxy(clip.hash)
  if (!fs.existsSync(file)) {
    throw new Problem('no-file.clip', { where: clip.fileName })
  }
  const atSeconds = asFloat64(media.timestamps)
  const { drawings } = readDrawings(onMoments(view.drawings, view.moments))
  const isTied = drawings.some((d) => d.tie)
  const moments = view.moments.filter((m) => choices.momentIds.includes(m.id))
  const kinds = context.db.select().from(t.cueKind).all()
  const range = shownRange(view, clip)
  const body = bodyOfClip(context.db, clip)
  const { side } = lesson.student
  return {
    file,
    clipName: clip.fileName,
    width: clip.width,
    height: clip.height,
    time: {
      atSeconds,
      realPerFileSecond: clip.playbackRate / clip.captureRate,
      realSeconds: unevenClock({ ...clip, atSeconds }),
      captureRate: clip.captureRate,
      fromFrame: range.from,
      toFrame: range.to,
      holdFrames: moments.map((m) => m.frame),
      holdSeconds: choices.holdSeconds,
      wantedSlowBy: choices.slowBy,
    },
    isMirrored: clip.isMirrored !== (choices.mirror ?? false),
    adjustments: { brightness: clip.brightness, contrast: clip.contrast },
    personOn: personOn(body, clip.captureRate),
    headOn: (frame) => headBoxOn(body, side, frame, clip.captureRate),
    drawings: isTied ? withMotion(drawings, motionsOf(context.db, clip, side)) : drawings,
    cues: sceneCues({ cues: view.cues, moments: view.moments, kinds }),
    sceneOptions: {
      tiltDeg: clip.tiltDeg,
      pixelsPerMeter: clip.pixelsPerMeter,
      lengths: lesson.student.units === 'mph-yd' ? 'imperial' : 'metric',
      textPx: Math.max(textPxFor(clip), Math.round(clip.width / (choices.isHalf ? 24 : 36))),
    },
    captions: new Map(
      moments.map((m) => [m.frame, momentCaption(m, view, clip, atSeconds, sayIn(lesson.student.language))]),
    ),
  }
}

/** What the pictures give that a student can use: few numbers, each with a picture to look at. */
const handedOver: readonly MeasureName[] = ['tempoRatio', 'leadKneeImpactDeg', 'headAlongImpactWidths']

/** The numbers of a swing that a student reads beside its clip. */
export const swingNumbers = (
  found: ViewInLesson,
  report: LessonReport,
  { units, language }: Pick<Student, 'units' | 'language'>,
): { label: string; value: string }[] => {
  const { shot } = found
  const say = sayIn(language)
  const pictures = report.measures?.swings.find((s) => s.swingId === found.swing.id)
  const measured = handedOver.flatMap((measure) => {
    const value = pictures && tellableValues(pictures)[measure]
    return value
      ? [
          {
            label: labelIn(say, measure),
            value: metricTextIn(say, measure, value.value, units, { sd: value.sd }),
          },
        ]
      : []
  })
  if (!shot) return measured
  const numbers = report.shots.find((s) => s.shotId === shot.id)
  const shown: ShotMetric[] = ['clubSpeedMps', 'ballSpeedMps', 'efficiency', 'carryM']
  const ofShot = shown.flatMap((metric) => {
    const value =
      metric === 'efficiency'
        ? (numbers?.efficiency?.value ?? null)
        : metric === 'carryM'
          ? (numbers?.carry.carryM ?? null)
          : shot[metric as 'clubSpeedMps']
    if (value === null) return []
    const isComputed = metric === 'carryM' && numbers?.carry.how === 'computed'
    const text = metricTextIn(say, metric, value, units)
    return [{ label: labelIn(say, metric), value: isComputed ? say('clip.computed', { value: text }) : text }]
  })
  return [...ofShot, ...measured]
}

export const swingTitle = ({ swing, clip, shot, where }: ViewInLesson, say: Say): string =>
  [
    clip.stillKind === null
      ? say('clip.swing', { n: String(swing.order) })
      : capital(momentIn(say, clip.stillKind)),
    shot ? clubIn(say, shot.club) : null,
    blockIn(say, where),
  ]
    .filter(Boolean)
    .join(' · ')
