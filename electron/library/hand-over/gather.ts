import fs from 'node:fs'
import { eq } from 'drizzle-orm'
import type {
  PageCard,
  PageClip,
  PageContent,
  PageFinding,
  PageSwing,
} from '../../../shared-core/hand-over/page.ts'
import type { OpenLesson } from '../../../shared-core/model/entities.ts'
import type { HandOverDraft } from '../../../shared-core/model/hand-over.ts'
import { Problem } from '../../../shared-core/problem.ts'
import { metricByShotChart } from '../../../shared-core/report/charts.ts'
import { betterBlock } from '../../../shared-core/report/lesson-sentence.ts'
import { unitNoteForStudent } from '../../../shared-core/report/reading-notes.ts'
import type { KeyedFinding, LessonReport } from '../../../shared-core/report/lesson-report.ts'
import { studentText, studentTexts } from '../../../shared-core/report/student-words.ts'
import type { ClipTimes } from '../../../shared-core/timing/clip-clock.ts'
import { frameFor, sharedMoments } from '../../../shared-core/timing/shared-moments.ts'
import {
  blockIn,
  clubIn,
  cueKindIn,
  labelIn,
  metricTextIn,
  momentIn,
  sayIn,
  speedIn,
  type Say,
} from '../../../shared-core/wording/say.ts'
import { starterTextIn } from '../../../shared-core/wording/starter-texts.ts'
import { coachPictureOf, type CoachPictureFiles } from '../coach/coach-pictures.ts'
import * as t from '../database/schema.ts'
import type { LibraryContext } from '../context.ts'
import { chartSvg } from './chart-svg.ts'
import { clipSource, findView, swingNumbers, swingTitle } from './content.ts'
import { plainName } from './plain-name.ts'
import type { ClipSource } from './clip-source.ts'
import type { PairLayout } from './clip-sizes.ts'
import type { ComparisonChoices } from './slow-clip.ts'
import type { Still } from './stills.ts'
import { said } from '../../../shared-core/wording/phrase.ts'

const holdSeconds = 2

export interface LessonInput {
  lesson: OpenLesson
  draft: HandOverDraft
  report: LessonReport
}

/** What a clip became (or would become): its speed, size, and the output frames it is held on. */
export interface MadeClip {
  slowBy: number
  rate: number
  width: number
  height: number
  durationSeconds: number
  holds: { frame: number; atOutputFrame: number; lasts: number }[]
}

/** How stills and clips are made: really, or only looked at. `label` says what is being done, for progress. */
export interface Makers {
  still(source: ClipSource, frame: number, label: string): Promise<Still>
  pairStill(
    pair: readonly [ClipSource, ClipSource],
    frames: readonly [number, number],
    layout: PairLayout,
    label: string,
  ): Promise<Still>
  clip(source: ClipSource, file: string, label: string): Promise<MadeClip>
  comparison(
    pair: readonly [ClipSource, ClipSource],
    lock: readonly [number, number],
    file: string,
    choices: Omit<ComparisonChoices, 'maxHeight'>,
    label: string,
  ): Promise<MadeClip>
  talk(id: string, file: string, label: string, say: Say): Promise<PageClip | null>
  /** Puts a drill's clip beside the page; false where there is only a look at it. */
  drillClip(clip: CoachPictureFiles, file: string): boolean
}

const strengthKeys = ['clip.strength1', 'clip.strength2', 'clip.strength3'] as const

const holdTexts = (made: MadeClip, textOf: (frame: number) => string): PageClip['holds'] =>
  made.holds.map((hold) => ({
    atSeconds: hold.atOutputFrame / made.rate,
    untilSeconds: (hold.atOutputFrame + hold.lasts) / made.rate,
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

/** Everything that stands on the page, with the clips made on the way. */
export const gatherPage = async (
  context: LibraryContext,
  input: LessonInput,
  makers: Makers,
): Promise<PageContent> => {
  const nameClip = clipNames()
  const say = sayIn(input.lesson.student.language)
  const swings: PageSwing[] = []
  for (const chosen of input.draft.swings) {
    swings.push(await gatherSwing(context, input, chosen, makers, nameClip))
  }
  const comparisons: PageClip[] = []
  for (const [index, id] of input.draft.comparisonIds.entries()) {
    const made = await gatherComparison(context, input, id, index, makers, nameClip)
    if (made) comparisons.push(made)
  }
  const talkThroughs: PageClip[] = []
  for (const [index, id] of input.draft.talkThroughIds.entries()) {
    const file = `clips/talk-through-${index + 1}.mp4`
    const made = await makers.talk(id, file, said('handOver.addingTalk'), say)
    if (made) talkThroughs.push(made)
  }
  const plan = gatherPlan(context, input, makers)
  const words = pageWords(context, input)
  const cards = [...words.cards, ...nextCard(input.lesson.lesson.nextFocus, plan, say)]
  return { ...words, cards, swings, comparisons, talkThroughs, plan }
}

/** Both at once; when one fails, the other has ended, too, before what they write to is cleared away. */
const together = async <A, B>(first: Promise<A>, second: Promise<B>): Promise<[A, B]> => {
  await Promise.allSettled([first, second])
  return Promise.all([first, second])
}

const gatherSwing = async (
  context: LibraryContext,
  { lesson, draft, report }: LessonInput,
  chosen: HandOverDraft['swings'][number],
  makers: Makers,
  nameClip: NameClip,
): Promise<PageSwing> => {
  const say = sayIn(lesson.student.language)
  const found = findView(lesson, chosen.viewId)
  const title = swingTitle(found, say)
  const label = `writing ${title}`
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
  const gatherStills = async () => {
    const stills: PageSwing['stills'] = []
    for (const moment of moments) {
      const still = await makers.still(source, moment.frame, label)
      const labels = source.drawings
        .filter(
          (d) => !d.isHidden && d.fromFrame <= moment.frame && moment.frame <= d.toFrame && d.shape.label,
        )
        .map((d) => d.shape.label)
      const cues = found.view.cues.filter((c) => c.momentId === moment.id).map(cueWords)
      const caption = captionOf(moment.frame) || momentIn(say, moment.name)
      stills.push({
        ...still,
        caption,
        alt: [
          `${title}, ${caption}`,
          labels.length ? say('clip.drawn', { labels: labels.join(', ') }) : '',
          cues.length ? say('clip.marked', { cues: cues.join('; ') }) : '',
        ]
          .filter(Boolean)
          .join('. '),
      })
    }
    return stills
  }
  const camera = found.clip.camera === 'other' ? '' : `-${found.clip.camera}`
  const file = nameClip(`${title}${camera}`)
  const [made, stills] = await together(
    chosen.withClip && found.clip.stillKind === null
      ? makers.clip(source, file, label)
      : Promise.resolve(null),
    gatherStills(),
  )
  let clip: PageClip | null = null
  if (made) {
    const names = moments.map((m) => momentIn(say, m.name)).join(', ')
    const speed = speedIn(say, made.slowBy)
    const poster = moments.findIndex((m) => m.name === 'impact')
    clip = {
      title,
      file,
      posterBase64: stills[Math.max(0, poster)]?.jpegBase64 ?? null,
      width: made.width,
      height: made.height,
      speed,
      text: names
        ? say('clip.holdingOn', { title, speed, moments: names })
        : say('clip.plain', { title, speed }),
      caption: names ? say('clip.holdsOn', { moments: names }) : '',
      holds: holdTexts(made, captionOf),
    }
  }
  return {
    title,
    caption: [chosen.caption, found.swing.note].filter(Boolean).join('\n\n'),
    numbers: swingNumbers(found, report, lesson.student),
    cues: found.view.cues.map(cueWords),
    stills,
    clip,
  }
}

const gatherComparison = async (
  context: LibraryContext,
  { lesson, draft }: LessonInput,
  id: string,
  index: number,
  makers: Makers,
  nameClip: NameClip,
): Promise<PageClip | null> => {
  const comparison = lesson.comparisons.find((c) => c.id === id)
  if (!comparison) return null
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
  const label = `writing ${title}`
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
  const still = await makers.pairStill(sources, frames, layout, label)
  const file = nameClip(`${title}-${index + 1}`)
  const [firstTitle, secondTitle] = titles
  const both = say(isOver ? 'clip.over' : 'clip.leftRight', {
    first: firstTitle,
    second: comparison.mirrorSecond ? say('clip.mirrored', { title: secondTitle }) : secondTitle,
  })
  const made = await makers.comparison(
    sources,
    frames,
    file,
    {
      ...layout,
      holdSeconds,
      wantedSlowBy: draft.slowBy,
      follow: isStretched ? follow : null,
      caption: `${both}: ${lockedOn}${isStretched ? say('clip.upperStretched') : ''}`,
    },
    label,
  )
  const plainSpeed = speedIn(say, made.slowBy)
  const areStills = pair.every((p) => p.clip.stillKind !== null)
  // Only the first swing runs at that speed where the second is stretched.
  const speed = areStills
    ? say('clip.stills')
    : isStretched
      ? say(isOver ? 'clip.lowerSpeed' : 'clip.leftSpeed', { speed: plainSpeed })
      : plainSpeed
  const moments = isStretched ? anchors.map((a) => momentIn(say, a.name)).join(', ') : lockedOn
  const sides = [
    both,
    say('clip.together', { moments }),
    ...(isStretched ? [say(isOver ? 'clip.upperIsStretched' : 'clip.rightIsStretched')] : []),
  ].join('; ')
  return {
    title,
    file,
    posterBase64: still.jpegBase64,
    width: made.width,
    height: made.height,
    speed,
    text: `${title}, ${speed}: ${sides}`,
    caption: sides,
    holds: holdTexts(made, () => say('clip.bothAt', { moment: lockedOn })),
  }
}

/** The findings of the hand-over in the coach's order, in the coach's words where there are any, else in the student's. */
const wantedFindings = ({ draft, report }: LessonInput, say: Say) => {
  const place = new Map(draft.findings.map((f, i) => [f.key, i]))
  const chosen = new Map(draft.findings.map((f) => [f.key, f]))
  const ownWords = (f: KeyedFinding) => chosen.get(f.key)?.sentence || null
  const wanted = report.findings
    .filter((f) => chosen.get(f.key)?.isShown ?? f.isMain)
    .toSorted((a, b) => (place.get(a.key) ?? Infinity) - (place.get(b.key) ?? Infinity) || 0)
  const said = new Map(
    studentTexts(
      wanted.filter((f) => ownWords(f) === null),
      report,
      say,
    ).map((text) => [text.key, text]),
  )
  return wanted.flatMap((finding) => {
    const own = ownWords(finding)
    const words = own === null ? said.get(finding.key) : studentText(finding, report, say)
    if (!words) return []
    return [{ finding, sentence: own ?? words.sentence, howSure: words.howSure, isOwn: own !== null }]
  })
}

/** What held back, what changed, what to do until next time; and what else was found. Nothing is said twice. */
const pageFindings = (input: LessonInput, say: Say): { cards: PageCard[]; more: PageFinding[] } => {
  const wanted = wantedFindings(input, say)
  const said = new Set<string>()
  const once = (text: string | null) => {
    if (text === null || said.has(text)) return null
    said.add(text)
    return text
  }
  const card = (title: string, of: (typeof wanted)[number] | undefined): PageCard[] =>
    of ? [{ title, text: of.sentence, howSure: of.howSure, caution: once(of.finding.caution) }] : []
  const best = betterBlock(input.report)
  const changes = wanted.filter((w) => w.finding.topic === 'change')
  const held = wanted.find((w) => w.finding.topic === 'holding-back')
  const changed =
    changes.find((w) => w.isOwn) ??
    changes.find((w) => w.finding.isSure && best !== null && w.finding.key.split(':')[1] === best) ??
    changes.find((w) => w.finding.isSure) ??
    changes[0]
  const cards = [...card(say('page.heldBack'), held), ...card(say('page.changed'), changed)]
  for (const { text } of cards) said.add(text)
  const more = wanted.flatMap((w): PageFinding[] => {
    if (w === held || w === changed || said.has(w.sentence)) return []
    said.add(w.sentence)
    return [{ sentence: w.sentence, howSure: w.howSure, caution: once(w.finding.caution) }]
  })
  return { cards, more }
}

/** The third card: the focus for next time, else the drills by name. */
const nextCard = (nextFocus: string, plan: PageContent['plan'], say: Say): PageCard[] => {
  const drills = plan?.items.map((item) => item.name) ?? []
  const text = [
    nextFocus.trim() &&
      `${nextFocus.trim().charAt(0).toUpperCase()}${nextFocus.trim().slice(1)}.`.replace(/([.!?])\.$/, '$1'),
    drills.length ? say('page.practise', { drills: drills.join(', ') }) : '',
  ]
    .filter(Boolean)
    .join(' ')
  return text ? [{ title: say('page.untilNext'), text, howSure: '', caution: null }] : []
}

const dataUriOf = (file: string, type: string): string =>
  `data:${type};base64,${fs.readFileSync(file).toString('base64')}`

const gatherPlan = (
  context: LibraryContext,
  { lesson, draft }: LessonInput,
  makers: Makers,
): PageContent['plan'] => {
  const { language } = lesson.student
  const plan = context.db.select().from(t.plan).where(eq(t.plan.lessonId, lesson.lesson.id)).get()
  if (!draft.withPlan || !plan || (plan.items.length === 0 && !plan.note)) return null
  const items = plan.items.map((item, index) => {
    const [name, how, dose, watchFor, caution] = [
      item.name,
      item.how,
      item.dose,
      item.watchFor,
      item.caution,
    ].map((text) => starterTextIn(language, text)) as [string, string, string, string, string]
    const found = coachPictureOf(context, item.pictureId ?? null)
    if (!found) return { name, how, dose, watchFor, caution, picture: null }
    const file = `clips/drill-${index + 1}-${plainName(name).toLowerCase()}.mp4`
    const isBeside = found.kind === 'clip' && makers.drillClip(found, file)
    const type = found.kind === 'clip' ? 'image/jpeg' : found.type
    return {
      name,
      how,
      dose,
      watchFor,
      caution,
      picture: {
        dataUri: dataUriOf(found.still, type),
        width: found.width,
        height: found.height,
        file: isBeside ? file : null,
        alt: sayIn(language)('page.looksLike', { drill: name }),
      },
    }
  })
  return { items, note: plan.note }
}

/** The page's words, numbers and charts, from the draft and the report. */
const pageWords = (
  context: LibraryContext,
  input: LessonInput,
): Omit<PageContent, 'swings' | 'comparisons' | 'talkThroughs' | 'plan'> => {
  const { lesson, draft, report } = input
  const { units, language } = lesson.student
  const say = sayIn(language)
  const findings = pageFindings(input, say)
  const { club } = report.session
  const speeds = new Map(lesson.shots.map((s) => [s.id, s.clubSpeedMps]))
  // One chart: the strike, unless only the speed is there.
  const charts = (['efficiency', 'clubSpeedMps'] as const)
    .flatMap((metric) => {
      const chartAt = (width: 'wide' | 'narrow') =>
        metricByShotChart(report, metric, club, speeds, { units, width, say })
      const [wide, narrow] = [chartAt('wide'), chartAt('narrow')]
      return wide && narrow
        ? [{ title: wide.title, text: wide.text, svg: chartSvg(wide), narrowSvg: chartSvg(narrow) }]
        : []
    })
    .slice(0, 1)
  const logo = coachPictureOf(context, draft.logoId)
  const metrics = report.blocks[0]?.metrics.map((m) => m.metric) ?? []
  return {
    language,
    title: lesson.lesson.title || say('page.yourLesson'),
    studentName: lesson.student.name,
    date: lesson.lesson.date,
    coachName: draft.coachName,
    logo: logo && { dataUri: dataUriOf(logo.file, logo.type), width: logo.width, height: logo.height },
    place: lesson.lesson.place,
    message: draft.message,
    accent: draft.accent,
    blocks: report.blocks.length
      ? {
          headers: [
            say('page.block'),
            say('page.club'),
            say('page.shotCount'),
            ...metrics.map((m) => labelIn(say, m)),
          ],
          rows: report.blocks.map((b) => [
            blockIn(say, b.label),
            clubIn(say, b.club),
            String(b.shots),
            ...b.metrics.map((m) => metricTextIn(say, m.metric, m.median, units)),
          ]),
        }
      : null,
    cards: findings.cards,
    moreFindings: findings.more,
    unitNote: unitNoteForStudent(lesson.shots, say),
    charts,
    nextFocus: lesson.lesson.nextFocus,
  }
}
