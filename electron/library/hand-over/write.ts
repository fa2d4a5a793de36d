import { randomUUID } from 'node:crypto'
import fs from 'node:fs'
import path from 'node:path'
import { eq } from 'drizzle-orm'
import { z } from 'zod'
import {
  handOverPage,
  type PageClip,
  type PageContent,
  type PageSwing,
} from '../../../shared-core/hand-over/page.ts'
import { speedWords } from '../../../shared-core/hand-over/slow-clip-plan.ts'
import { clubWords } from '../../../shared-core/model/club.ts'
import type { LessonView } from '../../../shared-core/model/entities.ts'
import type { HandOverDraft } from '../../../shared-core/model/hand-over.ts'
import { Problem } from '../../../shared-core/problem.ts'
import { metricByShotChart } from '../../../shared-core/report/charts.ts'
import type { LessonReport } from '../../../shared-core/report/lesson-report.ts'
import { metricLabel, metricText } from '../../../shared-core/units.ts'
import * as t from '../database/schema.ts'
import { draftOf } from '../handlers/hand-over.ts'
import type { LibraryContext } from '../library.ts'
import { Cancelled, type RunOptions } from '../media/run-ffmpeg.ts'
import { lessonView } from '../queries/lesson-view.ts'
import { reportOfLesson } from '../queries/report-lesson.ts'
import { stillOf } from '../scene/still.ts'
import type { JobRun } from '../jobs/queue.ts'
import { chartSvg } from './chart-svg.ts'
import { missingConsent } from './consent.ts'
import { clipSource, findView, swingNumbers, swingTitle } from './content.ts'
import { writeComparison, writeSlowClip } from './slow-clip.ts'
import { lessonJson, shotsCsv } from './student-data.ts'
import { zipFolder } from './zip.ts'

const taskSchema = z.object({
  lessonId: z.string(),
  folder: z.string(),
  consentSaidBy: z.string().nullable(),
})
const holdSeconds = 2
const stillLongestPx = 1280

const plainName = (text: string): string =>
  text
    .normalize('NFKD')
    .replace(/\p{M}/gu, '')
    .replace(/[^A-Za-z0-9]+/g, '-')
    .replace(/^-+|-+$/g, '')
    .slice(0, 60) || 'lesson'

const diskProblem = (error: unknown, folder: string): unknown => {
  const code = (error as NodeJS.ErrnoException).code
  if (code === 'ENOSPC')
    return new Problem('disk-full', 'there is no room on the disk for the package', {
      where: folder,
      toDo: 'Free some disk space, or choose another folder',
    })
  if (code === 'EACCES' || code === 'EPERM' || code === 'EROFS' || code === 'ENOTDIR') {
    return new Problem('not-writable', 'this folder can’t be written to', {
      where: folder,
      toDo: 'Choose another folder',
    })
  }
  return error
}

const freePath = (wanted: string): string => {
  for (let n = 1; ; n += 1) {
    const candidate = n === 1 ? wanted : `${wanted}-${n}`
    if (!fs.existsSync(candidate) && !fs.existsSync(`${candidate}.zip`)) return candidate
  }
}

/**
 * Writes the lesson package: a folder and a zip of it. Everything is made in a hidden folder beside the target and
 * moved at the end, so a failure or a cancel leaves no half package. The result is the package's folder.
 */
export const writeHandOver = async (context: LibraryContext, run: JobRun): Promise<string> => {
  const task = taskSchema.parse(run.task)
  const lesson = lessonView(context, task.lessonId)
  const lacking = missingConsent(lesson.student, context.now().toISOString().slice(0, 10))
  if (lacking !== null && !task.consentSaidBy) {
    throw new Problem('no-consent', lacking, {
      toDo: 'Record the consent on the student’s card, or say who agrees to this package',
    })
  }
  const draft = draftOf(context, task.lessonId)
  const name = `${lesson.lesson.date}-${plainName(lesson.student.name)}`
  const work = path.join(task.folder, `.${name}-${run.id}.part`)
  try {
    fs.mkdirSync(work, { recursive: true })
    fs.mkdirSync(path.join(work, 'package'))
    const report = reportOfLesson(context, task.lessonId)
    await writePackage(context, { lesson, draft, report, folder: path.join(work, 'package'), work, run })
    run.say('zipping', 0.96)
    const target = freePath(path.join(task.folder, name))
    const zipPart = path.join(work, `${path.basename(target)}.zip`)
    await zipFolder(path.join(work, 'package'), zipPart, run.signal)
    const byteLength = fs.statSync(zipPart).size
    if (run.signal.aborted) throw new Cancelled()
    fs.renameSync(zipPart, `${target}.zip`)
    fs.renameSync(path.join(work, 'package'), target)
    context.db
      .insert(t.handOver)
      .values({
        id: randomUUID(),
        lessonId: task.lessonId,
        writtenAt: context.now().toISOString(),
        folder: target,
        zip: `${target}.zip`,
        byteLength,
        draft,
        consentSaidBy: lacking === null ? null : task.consentSaidBy,
      })
      .run()
    return target
  } catch (error) {
    if (run.signal.aborted) throw new Cancelled()
    throw diskProblem(error, task.folder)
  } finally {
    fs.rmSync(work, { recursive: true, force: true })
  }
}

interface PackageInput {
  lesson: LessonView
  draft: HandOverDraft
  report: LessonReport
  folder: string
  work: string
  run: JobRun
}

const writePackage = async (context: LibraryContext, input: PackageInput) => {
  const { lesson, draft, report, folder, run } = input
  const programs = await context.mediaPrograms()
  const swings: PageSwing[] = []
  const comparisons: PageClip[] = []
  const steps = draft.swings.length + draft.comparisonIds.length + 1
  let done = 0
  const optionsFor = (clipName: string, step: string): RunOptions => ({
    programs,
    clipName,
    signal: run.signal,
    onProgress: (share) => run.say(step, (0.95 * (done + share)) / steps),
  })

  for (const chosen of draft.swings) {
    const found = findView(lesson, chosen.viewId)
    const title = swingTitle(found, lesson)
    run.say(`writing ${title}`, (0.95 * done) / steps)
    const options = optionsFor(found.clip.fileName, `writing ${title}`)
    const source = clipSource(context, lesson, chosen.viewId, {
      momentIds: chosen.momentIds,
      slowBy: draft.slowBy,
      holdSeconds,
      caption: chosen.caption,
    })
    const moments = found.view.moments
      .filter((m) => chosen.momentIds.includes(m.id))
      .toSorted((a, b) => a.frame - b.frame)
    const stills: PageSwing['stills'] = []
    for (const moment of moments) {
      const still = await stillOf(
        {
          file: source.file,
          facts: {
            width: source.width,
            height: source.height,
            atSeconds: Float64Array.from(source.time.atSeconds),
          },
          frame: moment.frame,
          drawings: source.drawings,
          cues: source.cues,
          options: source.sceneOptions,
          longestPx: stillLongestPx,
        },
        { ...options, onProgress: undefined },
      )
      const caption = source.captions.get(moment.frame) ?? moment.name
      stills.push({
        jpegBase64: still.jpeg(82).toString('base64'),
        width: still.width,
        height: still.height,
        caption,
        alt: `${title}: ${caption}`,
      })
    }
    const kinds = new Map(
      context.db
        .select()
        .from(t.cueKind)
        .all()
        .map((k) => [k.key, k.label]),
    )
    const file = `clips/${plainName(title).toLowerCase()}${found.clip.camera === 'other' ? '' : `-${found.clip.camera}`}.mp4`
    let clip: PageClip | null = null
    if (chosen.withClip) {
      fs.mkdirSync(path.join(folder, 'clips'), { recursive: true })
      const plan = await writeSlowClip(
        source,
        path.join(folder, file),
        { maxHeight: draft.maxHeight, work: input.work, name: `s${done}` },
        options,
      )
      clip = {
        title,
        file,
        posterBase64:
          stills.find((s) => s.caption.startsWith('Impact'))?.jpegBase64 ?? stills[0]?.jpegBase64 ?? null,
        width: source.width,
        height: source.height,
        speed: speedWords(plan.slowBy),
        text: `${title}, ${speedWords(plan.slowBy)}, holding on ${moments.map((m) => m.name).join(', ') || 'no moment'}`,
        caption: moments.length ? `holds on ${moments.map((m) => m.name).join(', ')}` : '',
      }
    }
    swings.push({
      title,
      caption: [chosen.caption, found.swing.note].filter(Boolean).join('\n\n'),
      numbers: swingNumbers(found, report, lesson.student.units),
      cues: found.view.cues.map(
        (c) =>
          `${kinds.get(c.kind) ?? c.kind}${c.strength ? ` (${['', 'a little', 'clear', 'strong'][c.strength]})` : ''}${c.note ? `: ${c.note}` : ''}`,
      ),
      stills,
      clip,
    })
    done += 1
  }

  for (const id of draft.comparisonIds) {
    const comparison = lesson.comparisons.find((c) => c.id === id)
    if (!comparison) continue
    const pair = [
      findView(lesson, comparison.firstViewId),
      findView(lesson, comparison.secondViewId),
    ] as const
    const lock = pair.map((p) => p.view.moments.find((m) => m.name === comparison.lockedOn))
    const title = comparison.name || 'Before and after'
    if (!lock[0] || !lock[1]) {
      throw new Problem(
        'no-moment',
        `"${title}" is locked on ${comparison.lockedOn}, which one of its swings does not have`,
        { toDo: `Mark ${comparison.lockedOn} on both swings, or take the comparison out` },
      )
    }
    run.say(`writing ${title}`, (0.95 * done) / steps)
    const sources = pair.map((p, i) =>
      clipSource(context, lesson, p.view.id, {
        momentIds: [lock[i]!.id],
        slowBy: draft.slowBy,
        holdSeconds,
        caption: '',
      }),
    ) as [ReturnType<typeof clipSource>, ReturnType<typeof clipSource>]
    const file = `clips/${plainName(title).toLowerCase()}-${done + 1}.mp4`
    fs.mkdirSync(path.join(folder, 'clips'), { recursive: true })
    const made = await writeComparison(
      sources,
      [lock[0].frame, lock[1].frame],
      path.join(folder, file),
      {
        maxHeight: draft.maxHeight,
        work: input.work,
        name: `c${done}`,
        holdSeconds,
        mirrorSecond: comparison.mirrorSecond,
      },
      optionsFor(title, `writing ${title}`),
    )
    comparisons.push({
      title,
      file,
      posterBase64: null,
      width: made.width,
      height: made.height,
      speed: speedWords(made.slowBy),
      text: `${swingTitle(pair[0], lesson)} on the left, ${swingTitle(pair[1], lesson)} on the right, together at ${comparison.lockedOn}`,
      caption: `left ${swingTitle(pair[0], lesson)}, right ${swingTitle(pair[1], lesson)}; together at ${comparison.lockedOn}`,
    })
    done += 1
  }

  run.say('writing the page', 0.95)
  const page = handOverPage(pageContent(context, input, swings, comparisons))
  fs.writeFileSync(path.join(folder, 'index.html'), page)
  fs.writeFileSync(path.join(folder, 'shots.csv'), shotsCsv(lesson, report))
  fs.writeFileSync(path.join(folder, 'lesson.json'), lessonJson(lesson, report, context.now().toISOString()))
}

/** The page's words, numbers and charts, from the draft and the report. */
export const pageContent = (
  context: LibraryContext,
  { lesson, draft, report }: Pick<PackageInput, 'lesson' | 'draft' | 'report'>,
  swings: PageSwing[],
  comparisons: PageClip[],
): PageContent => {
  const units = lesson.student.units
  const words = new Map(draft.findings.map((f) => [f.key, f]))
  const findings = report.findings
    .filter((f) => words.get(f.key)?.isShown ?? f.isMain)
    .map((f) => ({
      sentence: words.get(f.key)?.sentence || f.sentence,
      howSure: f.howSure,
      howWeKnow: f.howWeKnow,
      caution: f.caution,
    }))
  const club = report.session.club
  const speeds = new Map(lesson.shots.map((s) => [s.id, s.clubSpeedMps]))
  const charts = (['efficiency', 'clubSpeedMps'] as const).flatMap((metric) => {
    const chart = metricByShotChart(report, metric, club, speeds, { units })
    return chart ? [{ title: chart.title, text: chart.text, svg: chartSvg(chart.options) }] : []
  })
  const plan = context.db.select().from(t.plan).where(eq(t.plan.lessonId, lesson.lesson.id)).get()
  const metrics = report.blocks[0]?.metrics.map((m) => m.metric) ?? []
  return {
    title: lesson.lesson.title || 'Your lesson',
    studentName: lesson.student.name,
    date: lesson.lesson.date,
    coachName: draft.coachName,
    place: lesson.lesson.place,
    message: draft.message,
    accent: draft.accent,
    blocks: report.blocks.length
      ? {
          headers: ['Block', 'Club', 'Shots', ...metrics.map((m) => metricLabel(m))],
          rows: report.blocks.map((b) => [
            b.label,
            clubWords(b.club),
            String(b.shots),
            ...b.metrics.map((m) => metricText(m.metric, m.median, units)),
          ]),
        }
      : null,
    findings,
    charts,
    swings,
    comparisons,
    talkThroughs: [],
    plan:
      draft.withPlan && plan && (plan.items.length > 0 || plan.note)
        ? { items: plan.items, note: plan.note }
        : null,
    nextFocus: lesson.lesson.nextFocus,
  }
}
