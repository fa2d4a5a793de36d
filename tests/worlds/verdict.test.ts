import { expect, test } from 'vitest'
import { rows as budgetRows, run as runBudget } from '../../scripts/worlds/lesson-budget.ts'
import { run as runPlaySpeed } from '../../scripts/worlds/play-speed.ts'
import { inventedLesson } from '../../scripts/worlds/support/invented-lesson.ts'
import { claimsOf, quickFindings } from '../../scripts/worlds/support/quick-claims.ts'
import { run as runShotsNeeded } from '../../scripts/worlds/shots-needed.ts'
import { run as runVerdict } from '../../scripts/worlds/verdict.ts'
import type { Finding } from '../../shared-core/change/findings.ts'
import { lessonReport } from '../../shared-core/report/lesson-report.ts'
import type { KeyedFinding } from '../../shared-core/report/lesson-report.ts'

// The small sizes with room for chance; the full tables, with the aims themselves, are in verdict.md and lesson-budget.md.
test('strike or speed on worlds with known truth: what must not be said is not said, and most of what must be is', () => {
  const tables: string[] = []
  const outcomes = runVerdict({ small: true, seed: 4_400_000, print: (text) => tables.push(text) })
  console.log(tables.join('\n'))
  for (const { name, strike, speed } of outcomes) {
    const where = `${name}: strike ${strike} %, speed ${speed} %`
    if (name.includes('1.30') || name.includes('0.10 below')) {
      expect(strike, where).toBeGreaterThanOrEqual(80)
      expect(speed, where).toBe(0)
    } else if (name.includes('1.47') || name.includes('as the best do')) {
      expect(speed, where).toBeGreaterThanOrEqual(60)
      expect(strike, where).toBeLessThanOrEqual(5)
    } else {
      expect(speed, where).toBeLessThanOrEqual(10)
    }
  }
})

test('lessons without an effect are rarely told of one, and effects worth having are found: every aim, 400 lessons a row', () => {
  const tables: string[] = []
  const outcomes = runBudget({ small: true, seed: 4_500_000, print: (text) => tables.push(text) })
  console.log(tables.join('\n'))
  for (const { name, lessons, percent, aim, holds } of outcomes) {
    expect(lessons, name).toBeGreaterThanOrEqual(400)
    expect(holds, `${name}: ${percent} %, wanted ${aim}`).toBe(true)
  }
})

test('the number of shots that is promised shows the change about 8 times in 10 or more', () => {
  const outcomes = runShotsNeeded({ small: true, seed: 4_800_000, print: console.log })
  const often = outcomes.filter(({ promises }) => promises >= 20)
  expect(often.length).toBeGreaterThanOrEqual(3)
  for (const { name, promises, percent } of often) {
    // Eight in ten, with two standard errors of so many lessons.
    expect(percent, name).toBeGreaterThanOrEqual(80 - 200 * Math.sqrt((0.8 * 0.2) / promises))
  }
})

test('the quick count of a lesson’s claims says what the whole report says', () => {
  const what = ({ topic, metric, verdict, sentence, isSure, cells }: Finding | KeyedFinding) => ({
    topic,
    metric,
    verdict,
    sentence,
    isSure,
    cells,
  })
  // One lesson of every row: with and without steps, cues, direction, face, drift.
  budgetRows.forEach(({ truth }, i) => {
    const lesson = inventedLesson(truth, 4_700_000 + i)
    const whole = claimsOf(lessonReport(lesson).findings)
    expect(claimsOf(quickFindings(lesson)).map(what)).toEqual(whole.map(what))
  })
})

test('the interval of the best speed covers the truth, and the speed given does not err towards danger', () => {
  const { spoken, covered, slowEnough } = runPlaySpeed({ small: true, seed: 4_600_000, print: console.log })
  expect(spoken).toBeGreaterThan(20)
  expect(covered / spoken).toBeGreaterThanOrEqual(0.9)
  expect(slowEnough / spoken).toBeGreaterThanOrEqual(0.9)
})
