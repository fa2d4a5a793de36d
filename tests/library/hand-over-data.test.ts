import fs from 'node:fs'
import path from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { lessonFileVersion, lessonJson, shotsCsv } from '../../electron/library/hand-over/student-data.ts'
import { openLesson } from '../../electron/library/queries/open-lesson.ts'
import { reportOfLesson } from '../../electron/library/queries/report-lesson.ts'
import { lessonWithDrawing, type LessonWithDrawing } from './support/lesson-with-drawing.ts'

interface Written {
  format: string
  version: number
  language: string
  findings: { key: string; sentence: string; howSure: string }[]
  swings: {
    views: {
      moments: { name: string; frame: number }[]
      cues: { moment: string | null; frame: number | null; kind: string }[]
      drawings: { fromFrame: number; toFrame: number }[]
    }[]
  }[]
}

let opened: LessonWithDrawing
const written = (): Written => {
  const { context } = opened.library
  const lesson = openLesson(context, opened.lessonId)
  return JSON.parse(
    lessonJson(lesson, reportOfLesson(context, opened.lessonId), '2026-05-01T10:00:00Z'),
  ) as Written
}
beforeAll(async () => {
  opened = await lessonWithDrawing()
  const { library, lessonId, folder } = opened
  const file = path.join(folder, 'shots.csv')
  fs.writeFileSync(
    file,
    'Club,Club Speed (mph),Ball Speed (mph),Remarks of Mine\nDriver,90,130,hurried\nDriver,92,,\n',
  )
  await library.ask('shots.add', { lessonId, file })
})
afterAll(async () => {
  await opened.library.close()
  fs.rmSync(opened.folder, { recursive: true, force: true })
})

describe('lesson.json', () => {
  it('has the parts that DEVELOPERS.md describes, and no others', () => {
    const text = fs.readFileSync('DEVELOPERS.md', 'utf8')
    const described = /`lesson\.json`, version (\d+)[\s\S]*?```\n([\s\S]*?)```/.exec(text)!
    expect(Number(described[1])).toBe(lessonFileVersion)
    const words = new Set(described[2]!.replace(/"[^"]*"|\[as in [^\]]*\]/g, '').match(/[A-Za-z]+/g))
    const found = new Set<string>()
    const look = (value: unknown, name = '') => {
      if (Array.isArray(value)) value.forEach((one) => look(one, name))
      else if (value !== null && typeof value === 'object') {
        for (const [key, part] of Object.entries(value)) {
          found.add(key)
          // Shapes, shots and what is behind a finding are described elsewhere.
          if (!['shape', 'shots', 'howWeKnow'].includes(key)) look(part, key)
        }
      }
    }
    look(written())
    // No cue has been set on this lesson yet, or one has: their parts may be missing here.
    const withoutCues = ['moment', 'strength', 'x', 'y', 'kind']
    expect([...found].filter((key) => !words.has(key))).toEqual([])
    expect([...words].filter((key) => !found.has(key) && !withoutCues.includes(key))).toEqual([])
  })

  it('says the findings in the language of the student’s page', async () => {
    const { library, lessonId } = opened
    const { student } = openLesson(library.context, lessonId)
    const english = written()
    expect(english.language).toBe('en')
    await library.ask('student.update', { id: student.id, patch: { language: 'de' } })
    const german = written()
    await library.ask('student.update', { id: student.id, patch: { language: 'en' } })
    expect(german.language).toBe('de')
    expect(german.findings.length).toBeGreaterThan(0)
    expect(german.findings.map((f) => f.key)).toEqual(english.findings.map((f) => f.key))
    for (const [i, { sentence, howSure }] of german.findings.entries()) {
      expect(sentence).not.toBe(english.findings[i]!.sentence)
      expect(`${sentence} ${howSure}`).not.toMatch(/\b(the|shots|not|can't)\b/i)
    }
  })

  it('keeps columns that no metric was read from with the coach', () => {
    const { context } = opened.library
    const lesson = openLesson(context, opened.lessonId)
    // The library has them, or this test would prove nothing.
    expect(lesson.shots[0]!.other).toMatchObject({ 'Remarks of Mine': 'hurried' })
    const report = reportOfLesson(context, opened.lessonId)
    for (const text of [lessonJson(lesson, report, '2026-05-01T10:00:00Z'), shotsCsv(lesson, report)]) {
      expect(text).not.toMatch(/hurried|Remarks of Mine|"other": \{/)
    }
  })

  it('says of each cue to which moment it belongs, and keeps drawings on their moment when it is moved', async () => {
    const { library, lessonId, views } = opened
    const view = () => library.ask('lesson.open', { lessonId })
    const ofFirst = async () => (await view()).swings.flatMap((s) => s.views).find((v) => v.id === views[0]!)!
    const [moment] = (await ofFirst()).moments
    const [kind] = await library.ask('cueKind.list', {})
    const cue = { momentId: moment!.id, kind: kind!.key, strength: 2, x: null, y: null, note: 'late' }
    await library.ask('cue.add', cue)
    await library.ask('moment.move', { id: moment!.id, frame: 33 })
    const first = written()
      .swings.flatMap((s) => s.views)
      .find((v) => v.cues.length > 0)!
    expect(first.cues).toEqual([
      { moment: 'impact', frame: 33, kind: kind!.key, strength: 2, x: null, y: null, note: 'late' },
    ])
    expect(first.drawings.map((d) => [d.fromFrame, d.toFrame])).toEqual([[33, 33]])
    const [drawing] = (await ofFirst()).drawings
    await library.ask('drawing.update', { id: drawing!.id, patch: { isHidden: true } })
    const hidden = written()
      .swings.flatMap((s) => s.views)
      .find((v) => v.cues.length > 0)!
    expect(hidden.drawings).toEqual([])
  })
})

describe('shots.csv', () => {
  it('is in SI, with nothing where nothing was recorded', () => {
    const { context } = opened.library
    const csv = shotsCsv(openLesson(context, opened.lessonId), reportOfLesson(context, opened.lessonId))
    const [header, first, second] = csv
      .trim()
      .split('\n')
      .map((row) => row.split(','))
    const value = (row: string[], name: string) => row[header!.indexOf(name)]
    // The mile is 1609.344 m exactly (international yard and pound agreement of 1959).
    expect(Number(value(first!, 'clubSpeedMps'))).toBeCloseTo((90 * 1609.344) / 3600, 9)
    expect(Number(value(first!, 'efficiency'))).toBeCloseTo(130 / 90, 4)
    expect([value(second!, 'ballSpeedMps'), value(second!, 'efficiency')]).toEqual(['', ''])
  })
})
