import { metricNames, type MetricName } from '../../../shared-core/model/shot.ts'
import { Problem } from '../../../shared-core/problem.ts'
import { dimensionOf } from '../../../shared-core/shots/column-names.ts'
import { decodeText } from '../../../shared-core/shots/decode-text.ts'
import { isKnownClub } from '../../../shared-core/shots/read-club.ts'
import { readShots, type ShotsReading } from '../../../shared-core/shots/read-shots.ts'
import { unitFactor } from '../../../shared-core/shots/unit.ts'
import type { OddFile, ToldShot } from './odd-files.ts'

export type Judged = {
  verdict: 'right' | 'said' | 'wrong' | 'refused'
  why: string
  reading: ShotsReading | null
  /** Real shots left out although that is said, shots read, and lines taken as shots that are none (said). */
  leftOut: number
  shots: number
  /** True if a unit was assumed (and said), and was not the true one. */
  isUnitWrong: boolean
}

/** Our name of the quantity per SI, for units the generator writes. */
const factorOf = (unit: string, metric: MetricName) =>
  unitFactor(unit === '' ? '' : unit, dimensionOf[metric])

/**
 * `wrong`: a number, a club, a block, a time, a sign or the order is not what the file says and nothing says so; or a value,
 * a club or a shot that the file has is missing in silence; or a shot is there that nobody hit. `said`: a problem names
 * exactly what is not certain, or a column is listed as not recognised. Where a unit was assumed, the value must be the
 * file's number in the unit that the reader says. `refused`: a Problem instead of shots.
 */
export const judge = (file: OddFile): Judged => {
  let reading: ShotsReading
  try {
    reading = readShots(decodeText(file.bytes).text, { playingSide: 'right' })
  } catch (error) {
    if (!(error instanceof Problem)) throw error
    return { verdict: 'refused', why: error.what, reading: null, leftOut: 0, shots: 0, isUnitWrong: false }
  }
  let isUnitWrong = false
  let leftOut = 0
  let said = false
  const outcome = (verdict: Judged['verdict'], why: string): Judged => ({
    verdict, why, reading, leftOut, shots: reading.shots.length, isUnitWrong,
  }) // prettier-ignore
  const wrong = (why: string) => outcome('wrong', why)
  const atLine = (line: number) => reading.problems.filter((p) => p.line === line)
  const isLineSaid = (line: number) =>
    atLine(line).some((p) => p.column === null && p.kind !== 'cell') ||
    reading.problems.some(
      (p) => p.kind === 'row' && /everything from here on/.test(p.message) && p.line <= line,
    )
  const columnOf = (header: string) =>
    reading.columns.find((c) => c.header.replace(/ \(\d+\)$/, '') === header.trim().replace(/\s+/g, ' '))
  const isColumnUnknown = (header: string) =>
    reading.unmapped.some((h) => h.replace(/ \(\d+\)$/, '') === header.trim().replace(/\s+/g, ' '))

  const left = new Map<number, ToldShot[]>()
  for (const t of file.told) left.set(t.line, [...(left.get(t.line) ?? []), t])
  const matched: ToldShot[] = []
  for (const shot of reading.shots) {
    const here = left.get(shot.line) ?? []
    if (here.length === 0) {
      if (file.repeats.includes(shot.line)) return wrong(`line ${shot.line} repeats a shot`)
      // Kept, but said to look like something else.
      if (!atLine(shot.line).some((p) => p.kind === 'assumed' && p.column === null)) {
        return wrong(`line ${shot.line} is no shot`)
      }
      said = true
      continue
    }
    const misfit = (t: ToldShot) =>
      metricNames.filter(
        (m) =>
          t.values[m] !== undefined &&
          shot[m] !== null &&
          Math.abs(t.values[m].value - shot[m]) > t.values[m].within,
      ).length
    const told = here.reduce((a, b) => (misfit(b) < misfit(a) ? b : a))
    left.set(
      shot.line,
      here.filter((t) => t !== told),
    )
    matched.push(told)
    for (const metric of metricNames) {
      const expected = told.values[metric]
      const value = shot[metric]
      if (expected === undefined) {
        if (value !== null && told.isBroken && isLineSaid(shot.line)) {
          said = true
          continue
        }
        // A putt has no flight, whether the file says nothing or 0.
        if (value !== null && !(told.club === 'putter' && value === 0)) {
          return wrong(`${metric} of line ${shot.line} is ${value}, the file has none`)
        }
        continue
      }
      const isCellSaid = atLine(shot.line).some(
        (p) =>
          (p.kind === 'cell' || p.kind === 'row') &&
          (p.column === null ||
            p.column.replace(/ \(\d+\)$/, '') === expected.column.trim().replace(/\s+/g, ' ')),
      )
      if (value === null) {
        if (told.club === 'putter' && expected.value === 0) continue
        if (!isCellSaid && !isColumnUnknown(expected.column)) {
          return wrong(`${metric} of line ${shot.line} is missing, the file says ${expected.value}`)
        }
        said = true
        continue
      }
      if (Math.abs(value - expected.value) <= expected.within) continue
      const column = columnOf(expected.column)
      const isAssumed = reading.problems.some(
        (p) => p.kind === 'assumed' && p.column === column?.header && /no unit/.test(p.message),
      )
      const trueUnit = file.units[expected.column]
      if (isAssumed && column?.unit && trueUnit !== undefined && !file.statesUnits) {
        const factor = factorOf(column.unit, metric) / factorOf(trueUnit, metric)
        if (Math.abs(value - expected.value * factor) <= expected.within * factor * 1.001 + 1e-9) {
          isUnitWrong = true
          said = true
          continue
        }
      }
      if (told.isBroken && isLineSaid(shot.line)) {
        said = true
        continue
      }
      return wrong(`${metric} of line ${shot.line} is ${value}, the file says ${expected.value}`)
    }
    if (shot.club !== told.club) {
      const isCellText = shot.club !== null && told.clubCell !== null && shot.club === told.clubCell
      const isSaid =
        reading.problems.some(
          (p) => /club|taken as a/.test(p.message) && (p.line === shot.line || p.kind === 'assumed'),
        ) ||
        (told.clubCell !== null && reading.unmapped.length > 0 && shot.club === null)
      if (!(isCellText && !isKnownClub(shot.club!)) && !isSaid) {
        return wrong(`club of line ${shot.line} is ${shot.club}, the file says ${told.club}`)
      }
      said = true
    }
    if ((shot.block ?? null) !== (told.block ?? null)) {
      if (!(shot.block === null && reading.unmapped.length > 0)) {
        return wrong(`block of line ${shot.line} is ${shot.block}`)
      }
      said = true
    }
    if (shot.at !== told.at) {
      const isSaid =
        reading.problems.some((p) => /order of day and month/.test(p.message)) ||
        atLine(shot.line).some((p) => p.kind === 'cell' && /date|time/.test(p.message)) ||
        (shot.at === null && reading.unmapped.length > 0) ||
        (shot.at !== null &&
          told.at !== null &&
          reading.unmapped.length > 0 &&
          (told.at.startsWith(shot.at) || told.at.endsWith(shot.at)))
      if (!isSaid) return wrong(`time of line ${shot.line} is ${shot.at}, the file says ${told.at}`)
      said = true
    }
  }
  for (const [line, list] of left) {
    for (const t of list) {
      if (!t.isBroken) leftOut++
      if (!isLineSaid(line)) return wrong(`the shot of line ${t.line} is missing in silence`)
      if (t.isBroken !== true) said = true
    }
  }
  said ||= reading.problems.some((p) => p.kind !== 'skipped') || reading.unmapped.length > 0
  if (file.tellsOrder && matched.some((t, i) => i > 0 && t.place < matched[i - 1]!.place)) {
    const couldNotKnow =
      reading.unmapped.length > 0 ||
      reading.problems.some((p) => p.kind === 'cell' && /date|time/.test(p.message)) ||
      reading.problems.some((p) => /order of day and month/.test(p.message))
    if (!couldNotKnow) return wrong('the order of the shots')
  }
  return outcome(said ? 'said' : 'right', '')
}
