import { expect, it } from 'vitest'
import { variedReport } from '../../../scripts/worlds/support/varied-lesson.ts'
import { betterBlockSentence, lessonSentence } from '../../../shared-core/report/lesson-sentence.ts'
import { inStudentWords } from '../../../shared-core/report/student-words.ts'
import { sayIn } from '../../../shared-core/wording/say.ts'

const seeds = Array.from({ length: 60 }, (_, i) => 501 + 17 * i)
const reports = seeds.map((seed) => ({ seed, report: variedReport(seed) }))

/** What no sentence may hold, whatever was hit. */
const neverSaid: [string, RegExp][] = [
  ['a number that is none', /NaN|undefined|null|Infinity|\[object/],
  ['two spaces, or one before a stop', / {2}| [.,;:]/],
  ['a stop doubled or a sentence without its capital', /\.\.|\.;|: \.|\. [a-z]/],
  ['one of many', /\b1 (more )?(shots|numbers|swings|blocks|readings|pairs|strikes)\b/],
  ['many of one', /\b(?!1 )\d+ (shot|number|swing|block|reading|pair|strike)\b(?! shot)/],
  ['a percent without its space', /\d%/],
  ['a hyphen for a minus', /(^|[\s(])-\d/],
  ['a sample spoken of as a law', /every time|always|never fails|proves|because of/i],
]

it('no sentence of sixty odd lessons, for coach or student, holds what none may hold', () => {
  const faults: string[] = []
  for (const { seed, report } of reports) {
    const texts = [
      ...report.findings.flatMap((f) => [f.sentence, f.howSure]),
      ...inStudentWords(report, sayIn('en')).findings.flatMap((f) => [f.sentence, f.howSure]),
      lessonSentence(report) ?? '',
    ]
    for (const text of texts) {
      for (const [what, pattern] of neverSaid) {
        if (pattern.test(text)) faults.push(`${seed}: ${what}: ${text}`)
      }
    }
  }
  expect(faults.slice(0, 12)).toEqual([])
})

it('no printed interval contradicts its own sentence', () => {
  let sureCells = 0
  for (const { seed, report } of reports) {
    for (const finding of report.findings) {
      const where = `${seed} ${finding.key}: ${finding.sentence}`
      const sure = finding.cells?.filter((cell) => cell.isSure) ?? []
      sureCells += sure.length
      for (const { interval, difference } of sure) {
        const [low, high] = interval!
        // The whole interval lies on the side that is told, with the number told in it.
        expect(low * high, where).toBeGreaterThan(0)
        expect(low <= difference! && difference! <= high, where).toBe(true)
        expect(difference! * (low + high), where).toBeGreaterThan(0)
      }
      if (finding.isSure && finding.cells) expect(sure.length, where).toBeGreaterThan(0)
      if (/It came with/.test(finding.sentence)) expect(finding.isSure, where).toBe(true)
      if (/^Can't tell|^Nothing changed/.test(finding.sentence)) {
        expect(finding.isSure, where).toBe(false)
        expect(sure, where).toEqual([])
      }
      for (const cell of finding.cells ?? []) {
        if (cell.verdict === 'no-visible-change') {
          expect(cell.interval![0] <= 0 || !cell.isSure, where).toBe(true)
        }
      }
      // "0.00 to 0.05 higher" would say both that it rose and that it may not have.
      expect(finding.sentence, where).not.toMatch(/\b(was|speed|efficiency|carry) 0(\.0+)? to \S+ /)
    }
  }
  expect(sureCells).toBeGreaterThan(20)
})

it('the sentences of one lesson agree: what the first line calls different is a sure cell, and the student is told no more', () => {
  for (const { seed, report } of reports) {
    const sure = report.findings.flatMap((f) => (f.cells ?? []).filter((cell) => cell.isSure))
    const better = betterBlockSentence(report)
    if (better !== null) {
      expect(/No block is surely different/.test(better), `${seed}: ${better}`).toBe(sure.length === 0)
    }
    const student = inStudentWords(report, sayIn('en')).findings
    report.findings.forEach((finding, i) => {
      if (!finding.isSure) {
        expect(student[i]!.howSure, `${seed} ${finding.key}`).not.toBe('We are sure of this.')
      }
    })
  }
})
