import { eq } from 'drizzle-orm'
import type { PageClip, PageContent, PagePlanItem, PageSwing } from '../../../shared-core/hand-over/page.ts'
import type { OpenLesson } from '../../../shared-core/model/entities.ts'
import type { HandOverDraft } from '../../../shared-core/model/hand-over.ts'
import { Problem } from '../../../shared-core/problem.ts'
import type { LessonReport } from '../../../shared-core/report/lesson-report.ts'
import type { ClipTimes } from '../../../shared-core/timing/clip-clock.ts'
import { localDay } from '../../../shared-core/model/local-day.ts'
import { missingConsent } from '../../../shared-core/model/consent.ts'
import { frameFor, sharedMoments } from '../../../shared-core/timing/shared-moments.ts'
import { phrase, type Word } from '../../../shared-core/wording/phrase.ts'
import { cueKindIn, momentIn, sayIn, speedIn, type Say } from '../../../shared-core/wording/say.ts'
import { starterTextIn } from '../../../shared-core/wording/starter-texts.ts'
import { coachPictureOf, type CoachPictureFiles } from '../coach/coach-pictures.ts'
import type { LibraryContext } from '../context.ts'
import * as t from '../database/schema.ts'
import type { ClipSource } from './clip-source.ts'
import { CoverCount, type CoverReport } from './cover-count.ts'
import { clipSource, findView, swingNumbers, swingTitle } from './content.ts'
import { nextCard, pageWords } from './page-words.ts'
import { plainName } from './plain-name.ts'
import { plannedClip, plannedPair, type PlannedClip, type PlannedPair } from './planned-clip.ts'
import type { PlannedStill } from './stills.ts'
import { talkClip } from './talk.ts'

const holdSeconds = 2

export interface LessonInput {
  lesson: OpenLesson
  draft: HandOverDraft
  report: LessonReport
}

/** A clip's place in the package and its words on the page; its poster comes with the pictures. */
type ClipWords = Omit<PageClip, 'posterBase64' | 'file'> & { file: string }

interface CaptionedStill {
  still: PlannedStill
  caption: string
  alt: string
}

/** One chosen swing. `clip` is null where its picture stands still, or none is wanted. */
export interface PlannedSwing {
  viewId: string
  title: string
  words: Omit<PageSwing, 'stills' | 'clip'>
  stills: CaptionedStill[]
  clip: { made: PlannedClip; words: ClipWords; poster: CaptionedStill | null } | null
}

/** One chosen comparison; its picture is the clip's poster. */
export interface PlannedComparison {
  id: string
  title: string
  made: PlannedPair
  words: ClipWords
  still: PlannedStill
}

/** One chosen talk-through: a file that is there already. */
export interface PlannedTalk {
  id: string
  from: string
  byteLength: number
  words: PageClip & { file: string }
}

/** One drill; `file` is its clip's path in the package, null for a picture. */
export interface PlannedDrill {
  words: Omit<PagePlanItem, 'picture'>
  picture: { files: CoachPictureFiles; file: string | null; alt: string } | null
}

/**
 * All that goes into a hand-over, before anything is made: every swing, clip, picture and word, how large, under which
 * name, and what is left out. The preview weighs it, the writer renders it; neither decides anything.
 */
export interface HandOverPlan extends LessonInput {
  page: Omit<PageContent, 'swings' | 'comparisons' | 'talkThroughs' | 'plan' | 'logo'>
  logo: CoachPictureFiles | null
  swings: PlannedSwing[]
  comparisons: PlannedComparison[]
  talks: PlannedTalk[]
  practice: { drills: PlannedDrill[]; note: string } | null
  /** What was chosen and is not in it, and why. */
  leftOut: { id: string; why: Word }[]
}

const strengthKeys = ['clip.strength1', 'clip.strength2', 'clip.strength3'] as const

const holdTexts = (
  rate: number,
  holds: readonly { frame: number; atOutputFrame: number; lasts: number }[],
  textOf: (frame: number) => string,
): PageClip['holds'] =>
  holds.map((hold) => ({
    atSeconds: hold.atOutputFrame / rate,
    untilSeconds: (hold.atOutputFrame + hold.lasts) / rate,
    text: textOf(hold.frame),
  }))

type NameClip = (words: string) => string

/** Names of clips from their titles; two cameras of one swing may have the same title, never the same file. */
const clipNames = (): NameClip => {
  const used = new Set<string>()
  return (words) => {
    const name = plainName(words).toLowerCase()
    let free = name
    for (let n = 2; used.has(free); n++) free = `${name}-${n}`
    used.add(free)
    return `clips/${free}.mp4`
  }
}

/** @throws Problem where a swing, a file or a moment that was chosen is not there */
export const handOverPlan = (context: LibraryContext, input: LessonInput): HandOverPlan => {
  const { lesson, draft } = input
  const nameClip = clipNames()
  const say = sayIn(lesson.student.language)
  const leftOut: HandOverPlan['leftOut'] = []
  const swings = draft.swings.map((chosen) => plannedSwing(context, input, chosen, nameClip))
  const comparisons = draft.comparisonIds.flatMap((id, index): PlannedComparison[] => {
    const comparison = lesson.comparisons.find((c) => c.id === id)
    if (comparison) return [plannedComparison(context, input, comparison, index, nameClip)]
    leftOut.push({ id, why: phrase('handOver.comparisonGone') })
    return []
  })
  const talks = draft.talkThroughIds.flatMap((id, index): PlannedTalk[] => {
    const talk = talkClip(context, id, say)
    const file = `clips/talk-through-${index + 1}.mp4`
    if (talk) return [{ id, from: talk.file, byteLength: talk.byteLength, words: { ...talk.clip, file } }]
    leftOut.push({ id, why: phrase('handOver.talkGone') })
    return []
  })
  const practice = plannedPractice(context, input)
  const page = pageWords(input)
  const drills = practice?.drills.map((drill) => drill.words.name) ?? []
  return {
    ...input,
    page: { ...page, cards: [...page.cards, ...nextCard(lesson.lesson.nextFocus, drills, say)] },
    logo: coachPictureOf(context, draft.logoId),
    swings,
    comparisons,
    talks,
    practice,
    leftOut,
  }
}

/** Every picture of the plan, in the order of the page. */
export const stillsOf = ({ swings, comparisons }: Pick<HandOverPlan, 'swings' | 'comparisons'>) => [
  ...swings.flatMap((swing) => swing.stills.map(({ still }) => still)),
  ...comparisons.map(({ still }) => still),
]

/** What is to be said of covers on all that goes out; null where they are neither used nor asked for. */
export const coversOf = (
  plan: Pick<HandOverPlan, 'lesson' | 'swings' | 'comparisons' | 'talks'>,
): CoverReport | null => {
  const count = new CoverCount()
  for (const still of stillsOf(plan)) {
    if (still.kind === 'one') count.add(still.source, still.frame)
    else still.pair.forEach((source, i) => count.add(source, still.frames[i]!))
  }
  for (const { clip } of plan.swings) {
    if (clip) count.add(clip.made.source, clip.made.timeLine.fromFrame, clip.made.timeLine.toFrame)
  }
  for (const { made } of plan.comparisons) {
    made.pair.forEach((source, i) => {
      const { fromFrame, toFrame } = made.timeLines[i]!
      count.add(source, fromFrame, toFrame)
    })
  }
  return count.report(plan.lesson.student, plan.talks.length)
}

/** Why the plan may not be written without an explicit yes; null if nothing is lacking. */
export const lackingFor = (plan: HandOverPlan, now: Date): Word | null =>
  missingConsent(plan.lesson.student, localDay(now)) ?? coversOf(plan)?.lacking ?? null

const plannedSwing = (
  context: LibraryContext,
  { lesson, draft, report }: LessonInput,
  chosen: HandOverDraft['swings'][number],
  nameClip: NameClip,
): PlannedSwing => {
  const say = sayIn(lesson.student.language)
  const found = findView(lesson, chosen.viewId)
  const title = swingTitle(found, say)
  const { momentIds } = chosen
  const source = clipSource(context, lesson, chosen.viewId, { momentIds, slowBy: draft.slowBy, holdSeconds })
  const kinds = new Map(
    context.db
      .select()
      .from(t.cueKind)
      .all()
      .map((k) => [k.key, cueKindIn(say, k)]),
  )
  const cueWords = (c: (typeof found.view.cues)[number]) => {
    const strength = strengthKeys[c.strength - 1]
    return `${kinds.get(c.kind) ?? c.kind}${strength ? ` (${say(strength)})` : ''}${c.note ? `: ${c.note}` : ''}`
  }
  const moments = found.view.moments
    .filter((m) => momentIds.includes(m.id))
    .toSorted((a, b) => a.frame - b.frame)
  const captionOf = (frame: number) => source.captions.get(frame) ?? ''
  const stills = moments.map((moment): CaptionedStill => {
    const labels = source.drawings
      .filter((d) => !d.isHidden && d.fromFrame <= moment.frame && moment.frame <= d.toFrame && d.shape.label)
      .map((d) => d.shape.label)
    const cues = found.view.cues.filter((c) => c.momentId === moment.id).map(cueWords)
    const caption = captionOf(moment.frame) || momentIn(say, moment.name)
    return {
      still: { kind: 'one', source, frame: moment.frame },
      caption,
      alt: [
        `${title}, ${caption}`,
        labels.length ? say('clip.drawn', { labels: labels.join(', ') }) : '',
        cues.length ? say('clip.marked', { cues: cues.join('; ') }) : '',
      ]
        .filter(Boolean)
        .join('. '),
    }
  })
  const camera = found.clip.camera === 'other' ? '' : `-${found.clip.camera}`
  const file = nameClip(`${title}${camera}`)
  const poster = moments.findIndex((m) => m.name === 'impact')
  const clipOf = (): PlannedSwing['clip'] => {
    const made = plannedClip(source, draft.maxHeight)
    const names = moments.map((m) => momentIn(say, m.name)).join(', ')
    const speed = speedIn(say, made.slowBy)
    return {
      made,
      poster: stills[Math.max(0, poster)] ?? null,
      words: {
        title,
        file,
        width: made.width,
        height: made.height,
        speed,
        text: names
          ? say('clip.holdingOn', { title, speed, moments: names })
          : say('clip.plain', { title, speed }),
        caption: names ? say('clip.holdsOn', { moments: names }) : '',
        holds: holdTexts(made.rate, made.holds, captionOf),
      },
    }
  }
  return {
    viewId: chosen.viewId,
    title,
    words: {
      title,
      caption: [chosen.caption, found.swing.note].filter(Boolean).join('\n\n'),
      numbers: swingNumbers(found, report, lesson.student),
      cues: found.view.cues.map(cueWords),
    },
    stills,
    // A picture that stands still is in the stills.
    clip: chosen.withClip && found.clip.stillKind === null ? clipOf() : null,
  }
}

const plannedComparison = (
  context: LibraryContext,
  { lesson, draft }: LessonInput,
  comparison: OpenLesson['comparisons'][number],
  index: number,
  nameClip: NameClip,
): PlannedComparison => {
  const pair = [findView(lesson, comparison.firstViewId), findView(lesson, comparison.secondViewId)] as const
  const lock = pair.map((p) => p.view.moments.find((m) => m.name === comparison.lockedOn))
  const say = sayIn(lesson.student.language)
  const title = comparison.name || say('page.beforeAfter')
  if (!lock[0] || !lock[1]) {
    throw new Problem('no-moment.lacking', { title, moment: comparison.lockedOn })
  }
  const anchors = sharedMoments(pair[0].view.moments, pair[1].view.moments)
  if (!anchors.some((a) => a.name === comparison.lockedOn)) {
    throw new Problem('no-moment.crossing', { title, moment: comparison.lockedOn })
  }
  const titles = pair.map((p) => swingTitle(p, say)) as [string, string]
  const isOver = comparison.arrangement === 'over'
  // With one moment in common there is nothing between moments to stretch.
  const isStretched = comparison.isStretched && anchors.length > 1
  const lockedOn = momentIn(say, comparison.lockedOn)
  const sources = pair.map((p, i) => {
    const moment = lock[i]!
    const source = clipSource(context, lesson, p.view.id, {
      momentIds: [moment.id],
      slowBy: draft.slowBy,
      holdSeconds,
      mirror: i === 1 && comparison.mirrorSecond,
      isHalf: !isOver,
    })
    const words = `${titles[i]!}: ${momentIn(say, moment.name)}${i === 1 && isStretched ? say('clip.stretched') : ''}`
    return { ...source, captions: new Map([[moment.frame, words]]) }
  }) as unknown as readonly [ClipSource, ClipSource]
  const [first, second] = pair.map((p, i) => ({
    atSeconds: sources[i]!.time.atSeconds,
    playbackRate: p.clip.playbackRate,
    captureRate: p.clip.captureRate,
    slowPart: p.clip.slowPart,
  })) as [ClipTimes, ClipTimes]
  const { view } = pair[1]
  const follow = (frame: number) => {
    const starts = { first: pair[0].view.fromFrame, second: view.fromFrame }
    const options = { anchors, lockedOn: comparison.lockedOn, isStretched, first, second, starts }
    const wanted = frameFor(frame, options)
    return Math.max(view.fromFrame, Math.min(view.toFrame, wanted))
  }
  const frames = [lock[0].frame, lock[1].frame] as const
  const layout = { arrangement: comparison.arrangement, opacity: comparison.opacity }
  const [firstTitle, secondTitle] = titles
  const both = say(isOver ? 'clip.over' : 'clip.leftRight', {
    first: firstTitle,
    second: comparison.mirrorSecond ? say('clip.mirrored', { title: secondTitle }) : secondTitle,
  })
  const made = plannedPair(sources, frames, {
    ...layout,
    maxHeight: draft.maxHeight,
    holdSeconds,
    wantedSlowBy: draft.slowBy,
    follow: isStretched ? follow : null,
    caption: `${both}: ${lockedOn}${isStretched ? say('clip.upperStretched') : ''}`,
  })
  const plainSpeed = speedIn(say, made.slowBy)
  const areStills = pair.every((p) => p.clip.stillKind !== null)
  // Only the first swing runs at that speed where the second is stretched.
  const speed = areStills
    ? say('clip.stills')
    : isStretched
      ? say(isOver ? 'clip.lowerSpeed' : 'clip.leftSpeed', { speed: plainSpeed })
      : plainSpeed
  const moments = isStretched ? anchors.map((a) => momentIn(say, a.name)).join(', ') : lockedOn
  const caption = [
    both,
    say('clip.together', { moments }),
    ...(isStretched ? [say(isOver ? 'clip.upperIsStretched' : 'clip.rightIsStretched')] : []),
  ].join('; ')
  const hold = { frame: frames[0], atOutputFrame: made.lockedAt, lasts: made.lasts }
  return {
    id: comparison.id,
    title,
    made,
    still: { kind: 'two', pair: sources, frames, layout },
    words: {
      title,
      file: nameClip(`${title}-${index + 1}`),
      width: made.width,
      height: made.height,
      speed,
      text: `${title}, ${speed}: ${caption}`,
      caption,
      holds: holdTexts(made.rate, [hold], () => say('clip.bothAt', { moment: lockedOn })),
    },
  }
}

const plannedPractice = (
  context: LibraryContext,
  { lesson, draft }: LessonInput,
): HandOverPlan['practice'] => {
  const { language } = lesson.student
  const plan = context.db.select().from(t.plan).where(eq(t.plan.lessonId, lesson.lesson.id)).get()
  if (!draft.withPlan || !plan || (plan.items.length === 0 && !plan.note)) return null
  const say: Say = sayIn(language)
  const drills = plan.items.map((item, index): PlannedDrill => {
    const [name, how, dose, watchFor, caution] = [
      item.name,
      item.how,
      item.dose,
      item.watchFor,
      item.caution,
    ].map((text) => starterTextIn(language, text)) as [string, string, string, string, string]
    const files = coachPictureOf(context, item.pictureId ?? null)
    const file = `clips/drill-${index + 1}-${plainName(name).toLowerCase()}.mp4`
    return {
      words: { name, how, dose, watchFor, caution },
      picture: files && {
        files,
        file: files.kind === 'clip' ? file : null,
        alt: say('page.looksLike', { drill: name }),
      },
    }
  })
  return { drills, note: plan.note }
}
