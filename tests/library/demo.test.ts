import { execFile } from 'node:child_process'
import fs from 'node:fs'
import path from 'node:path'
import { promisify } from 'node:util'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { Library } from '../../electron/library/library.ts'
import type { OpenLesson } from '../../shared-core/model/entities.ts'
import type { LessonReport } from '../../shared-core/report/lesson-report.ts'
import type { SeasonView } from '../../shared-core/report/season-view.ts'
import { temporaryFolder } from './support/temporary-library.ts'

const run = promisify(execFile)
const media = path.resolve('demo-media')
const read = (name: string) => JSON.parse(fs.readFileSync(path.join(media, name), 'utf8'))

interface Truth {
  file: string
  captureRate: number
  swings: { swing: number; shot: number | null; moments: { impact: { frame: number } } }[]
}
interface Printed {
  lessonId: string
  library: string
  handOver: { folder: string; zip: string }
  report: LessonReport
  season: SeasonView
  page: {
    length: { heightPx: number; contentWidthPx: number } | null
    whyNotMeasured: string | null
    readingEase: { page: number; findings: number }
  }
}

let out: string
let printed: Printed
let again: Printed
let lesson: OpenLesson
let filmedBefore: OpenLesson
const truths: Truth[] = fs
  .readdirSync(media)
  .filter((name) => name.endsWith('.truth.json'))
  .map(read)

const demo = async (): Promise<Printed> => {
  const { stdout } = await run(process.execPath, ['electron/cli/index.ts', 'demo', '--out', out, '--json'], {
    maxBuffer: 1e8,
  })
  return JSON.parse(stdout) as Printed
}

beforeAll(async () => {
  out = temporaryFolder()
  printed = await demo()
  again = await demo()
  const library = new Library({ folder: again.library })
  lesson = await library.ask('lesson.open', { lessonId: again.lessonId })
  const earlier = again.season.lessons.at(-2)!
  filmedBefore = await library.ask('lesson.open', { lessonId: earlier.id })
  await library.close()
}, 600_000)
afterAll(() => fs.rmSync(out, { recursive: true, force: true }))

const viewsOf = (file: string) => {
  const clip = lesson.clips.find((c) => c.fileName === file)!
  return lesson.swings.flatMap((swing) =>
    swing.views.filter((v) => v.clipId === clip.id).map((view) => ({ swing, view, clip })),
  )
}

describe('the demo', () => {
  it('finds impact within one frame of the truth in at least 95 % of the pictures of swings', () => {
    const errors = truths.flatMap((truth) => {
      const views = viewsOf(truth.file)
      expect(views.length, truth.file).toBe(truth.swings.length)
      return truth.swings.map((swing, i) => {
        const impact = views[i]!.view.moments.find((m) => m.name === 'impact')
        return {
          file: truth.file,
          error: impact ? impact.frame - swing.moments.impact.frame : Infinity,
          confidence: impact?.confidence ?? 0,
        }
      })
    })
    const good = errors.filter((e) => Math.abs(e.error) <= 1)
    expect(
      good.length / errors.length,
      JSON.stringify(errors.filter((e) => Math.abs(e.error) > 1)),
    ).toBeGreaterThanOrEqual(0.95)
    // What is wrong must not be sure of itself.
    for (const e of errors.filter((one) => Math.abs(one.error) > 1)) {
      expect(e.confidence, e.file).toBeLessThan(0.5)
    }
  })

  it('reads the capture rate of every clip, stretched slow motion included', () => {
    const wrong = truths.filter((truth) => {
      const { clip } = viewsOf(truth.file)[0]!
      return Math.abs(clip.captureRate / truth.captureRate - 1) > 0.05
    })
    expect(wrong.map((t) => t.file)).toEqual([])
  })

  it('pairs every filmed swing with its own shot, across a clock that is minutes off and drifts', () => {
    const shots = new Map(lesson.shots.map((s) => [s.id, s.order]))
    for (const truth of truths) {
      const views = viewsOf(truth.file)
      truth.swings.forEach((swing, i) => {
        const { shotId } = views[i]!.swing
        expect(shotId === null ? null : shots.get(shotId), `swing ${swing.swing}`).toBe(swing.shot)
      })
    }
    const { truth } = read('lesson.json')
    expect(lesson.clock!.offsetSeconds * 1000).toBeGreaterThan(truth.deviceClock.offsetMs - 2000)
    expect(lesson.clock!.offsetSeconds * 1000).toBeLessThan(truth.deviceClock.offsetMs + 2000)
  })

  it('says what the generator put in: strike holds back, the firm lead side lifts efficiency, soft shoulders lift speed', () => {
    const { report } = printed
    expect(report.holdingBack!.verdict).toBe('strike')
    const row = (after: string, metric: string) =>
      report.comparisons.find((c) => c.after === after)!.metrics.find((m) => m.metric === metric)!
    expect(row('Firm lead side', 'efficiency')).toMatchObject({ verdict: 'changed' })
    expect(row('Firm lead side', 'efficiency').difference).toBeGreaterThan(0)
    expect(row('Firm lead side', 'clubSpeedMps').verdict).not.toBe('changed')
    expect(row('Soft shoulders', 'clubSpeedMps')).toMatchObject({ verdict: 'changed' })
    expect(row('Soft shoulders', 'clubSpeedMps').difference).toBeGreaterThan(0)
    expect(row('Soft shoulders', 'efficiency').difference).toBeLessThan(0)
    const { blocks } = read('lesson.json').truth as {
      blocks: {
        blockName: string
        club: string
        shotsRecorded: number
        meanEfficiency: number
        meanClubSpeedMps: number
      }[]
    }
    for (const block of blocks.filter((b) => b.shotsRecorded >= 5)) {
      const numbers = report.blocks.find((b) => b.label === block.blockName && b.club === block.club)!
      const mean = (metric: string) => numbers.metrics.find((m) => m.metric === metric)!.mean!
      expect(numbers.shots).toBe(block.shotsRecorded)
      // The device of the demo errs by 0.6 % and 0.4 % a reading; five readings average most of it out.
      expect(Math.abs(mean('efficiency') / block.meanEfficiency - 1)).toBeLessThan(0.012)
      expect(Math.abs(mean('clubSpeedMps') / block.meanClubSpeedMps - 1)).toBeLessThan(0.01)
    }
  })

  it('says the same when it is run again', () => {
    expect(again.report.findings.map((f) => f.sentence)).toEqual(
      printed.report.findings.map((f) => f.sentence),
    )
    expect(again.lessonId).not.toBe(printed.lessonId)
  })

  it('writes a page, clips and a zip, and keeps the earlier package as it was', () => {
    expect(again.handOver.folder).not.toBe(printed.handOver.folder)
    for (const { handOver } of [printed, again]) {
      expect(fs.readFileSync(path.join(handOver.folder, 'index.html'), 'utf8')).toContain('<!doctype html>')
      expect(
        fs.readdirSync(path.join(handOver.folder, 'clips')).filter((f) => f.endsWith('.mp4')).length,
      ).toBeGreaterThanOrEqual(5)
      expect(fs.statSync(handOver.zip).size).toBeGreaterThan(1e6)
    }
    expect(fs.readdirSync(path.dirname(again.handOver.folder)).filter((f) => f.startsWith('.'))).toEqual([])
  })

  it('has a season: what the generator put into five earlier lessons is found again, and no more', () => {
    const { lessons } = read('earlier/lessons.json') as {
      lessons: { truth: { meanEfficiency: number; meanClubSpeedMps: number }[] }[]
    }
    const truth = lessons.map((l) => l.truth)
    const [driver] = printed.season.clubs
    expect(driver).toMatchObject({ club: 'driver' })
    expect(driver!.report.lessons).toBe(6)
    const speed = driver!.report.metrics.find((m) => m.metric === 'clubSpeedMps')!
    const middles = truth.map(([first, last]) => (first!.meanClubSpeedMps + last!.meanClubSpeedMps) / 2)
    middles.forEach((middle, i) =>
      expect(Math.abs(speed.levels[i]!.centre! / middle - 1)).toBeLessThan(0.012),
    )
    expect(middles).toEqual(middles.toSorted((a, b) => a - b))
    expect(speed.trend.state).toBe('rising')
    // What was gained in one lesson against what the next one starts with: most of it kept twice, lost once.
    const keptTruth = (i: number, metric: 'meanEfficiency' | 'meanClubSpeedMps') => {
      const [first, last] = truth[i]!
      return (truth[i + 1]![0]![metric] - first![metric]) / (last![metric] - first![metric])
    }
    const said = (i: number, metric: string) =>
      driver!.report.kept[i]!.metrics.find((m) => m.metric === metric)!.verdict
    expect(keptTruth(3, 'meanEfficiency')).toBeGreaterThan(0.8)
    expect(said(3, 'efficiency')).toBe('kept')
    expect(keptTruth(1, 'meanClubSpeedMps')).toBeLessThan(0.3)
    expect(said(1, 'clubSpeedMps')).toBe('lost')
    expect(driver!.findings.some((f) => f.verdict === 'personal-best')).toBe(true)
    expect(driver!.plans.map((p) => p.shownOn)).toEqual(
      printed.season.lessons
        .slice(1)
        .map((l) => l.date)
        .toReversed(),
    )
  })

  it('has two clips in the lesson before, each with its own shot, and asks how its plan went', () => {
    const { lessons } = read('earlier/lessons.json') as {
      lessons: { clips: { file: string; shot: number }[] }[]
    }
    const shots = new Map(filmedBefore.shots.map((s) => [s.id, s.order]))
    const paired = filmedBefore.swings
      .filter((s) => s.views.length > 0)
      .map((s) => [
        filmedBefore.clips.find((c) => c.id === s.views[0]!.clipId)!.fileName,
        shots.get(s.shotId!),
      ])
    expect(paired).toEqual(lessons.at(-1)!.clips.map(({ file, shot }) => [path.basename(file), shot]))
    const plans = printed.season.lessons.map((l) => l.plan!)
    expect(plans.map((p) => p.items.length > 0)).toEqual(plans.map(() => true))
    expect(plans.map((p) => p.outcome !== '')).toEqual([true, true, true, true, false, false])
  })

  it('leaves the demo’s coach on the demo’s own page alone: no other lesson is signed with that name', async () => {
    const library = new Library({ folder: again.library })
    const { coachName } = await library.ask('handOver.draft', { lessonId: lesson.lesson.id })
    expect(coachName).toBe(read('lesson.json').coach)
    expect(coachName).not.toBe('')
    expect((await library.ask('settings.get', {})).coachName).toBe('')
    const student = await library.ask('student.create', { name: 'Real Student', side: 'right' })
    const own = await library.ask('lesson.create', { studentId: student.id, date: '2026-05-20' })
    // Also for a further lesson of the demo's student.
    const further = await library.ask('lesson.create', { studentId: lesson.student.id, date: '2026-05-21' })
    for (const lessonId of [own.id, further.id]) {
      expect((await library.ask('handOver.draft', { lessonId })).coachName).toBe('')
    }
    await library.close()
  })

  it('prints how long the student’s page is on a phone, and how easily it reads', () => {
    const { length, whyNotMeasured, readingEase } = printed.page
    if (length === null) {
      console.log(`length not measured: ${whyNotMeasured}`)
      expect(whyNotMeasured).toMatch(/Electron/)
    } else {
      expect(length.heightPx).toBeLessThanOrEqual(6500)
      expect(length.heightPx).toBeGreaterThan(2000)
      expect(length.contentWidthPx).toBe(390)
    }
    expect(readingEase.page).toBeGreaterThanOrEqual(70)
    expect(readingEase.findings).toBeGreaterThanOrEqual(70)
  })
})
