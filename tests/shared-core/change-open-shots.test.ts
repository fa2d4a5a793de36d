import { existsSync, readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import type { ChangeBlock, ChangeShot } from '../../shared-core/change/change-shot.ts'
import { compareBlocks, compareToBaseline } from '../../shared-core/change/compare-blocks.ts'
import {
  comparisonFindings,
  cueFindings,
  playSpeedFindings,
  sessionFindings,
} from '../../shared-core/change/findings.ts'
import { cueReport } from '../../shared-core/change/cue-report.ts'
import { playSpeedReport } from '../../shared-core/change/play-speed-report.ts'
import { sessionReport } from '../../shared-core/change/session-report.ts'
import { readShots } from '../../shared-core/shots/read-shots.ts'
import { blockSummary } from '../../shared-core/statistics/block-summary.ts'

// 1,757 real shots by 8 numbered golfers: CaddieSet (Jung et al., CVPR 2025 Workshops), MIT. Not part of the project.
const file = new URL('../../../shared/data/open-shots/shots.csv', import.meta.url)
const isHere = existsSync(file)
if (!isHere) {
  console.log('skipped "open shot records": ../shared/data/open-shots/shots.csv is not here')
}

describe.skipIf(!isHere)('open shot records (skipped where ../shared/data/open-shots is absent)', () => {
  const shots = isHere
    ? readShots(readFileSync(file, 'utf8'), {
        units: { speed: 'm/s', length: 'm' },
        // Six rows are equal in every cell: the data set is taken as it was published.
        doubled: 'all',
      }).shots
    : []
  const golfers = [...new Set(shots.map((shot) => shot.other.GolferId!))].sort()
  const of = (golfer: string): ChangeShot[] => shots.filter((shot) => shot.other.GolferId === golfer)
  const halves = (golfer: string): [ChangeBlock, ChangeBlock] => {
    const own = of(golfer)
    return [
      { label: 'first half', shots: own.slice(0, own.length >> 1) },
      { label: 'second half', shots: own.slice(own.length >> 1) },
    ]
  }

  const comparisons = golfers.map((golfer) => {
    const [before, after] = halves(golfer)
    return { golfer, report: compareBlocks({ before, after, options: { sameSetup: false } }) }
  })

  it('holds eight golfers, each with ball speed and carry that can be summarised', () => {
    expect(shots).toHaveLength(1757)
    expect(golfers).toHaveLength(8)
    for (const golfer of golfers) {
      const ball = blockSummary(of(golfer).map((shot) => shot.ballSpeedMps))
      const carry = blockSummary(of(golfer).map((shot) => shot.carryM))
      console.log(
        `golfer ${golfer}: ${ball.n} shots, ball speed ${ball.median!.toFixed(1)} m/s (MAD ${ball.scaledMad!.toFixed(1)}), ` +
          `carry ${carry.median!.toFixed(0)} m (MAD ${carry.scaledMad!.toFixed(0)}), ${ball.flagged!.length} to look at`,
      )
      expect(ball.n).toBeGreaterThan(10)
      expect(ball.median!).toBeGreaterThan(20)
      expect(ball.median!).toBeLessThan(85)
      expect(carry.min!).toBeLessThan(carry.max!)
    }
  })

  it('each golfer’s halves compare with one club, every number finite', () => {
    for (const { golfer, report } of comparisons) {
      expect(report.club).not.toBeNull()
      const ball = report.metrics.find((row) => row.metric === 'ballSpeedMps')!
      expect(ball.difference).not.toBeNull()
      expect(ball.ci95![0]).toBeLessThanOrEqual(ball.difference!)
      expect(ball.ci95![1]).toBeGreaterThanOrEqual(ball.difference!)
      expect(report.leftOut.reduce((sum, part) => sum + part.shots, 0)).toBe(
        of(golfer).length - ball.before.n - ball.after.n - ball.before.missing - ball.after.missing,
      )
    }
  })

  it('says of club speed, efficiency and play speed that it can’t say anything', () => {
    for (const { golfer, report } of comparisons) {
      const [before, after] = halves(golfer)
      const findings = comparisonFindings(report, { units: 'kmh-m' })
      expect(findings[0]!.sentence).toContain('No readings of club speed and efficiency')
      for (const cell of findings[0]!.cells!) {
        if (cell.metric === 'clubSpeedMps' || cell.metric === 'efficiency') {
          expect(cell).toMatchObject({ verdict: 'not-recorded', isSure: false, difference: null })
        }
      }
      const [speed] = playSpeedFindings(playSpeedReport({ blocks: [before, after] }), { units: 'kmh-m' })
      expect(speed!).toMatchObject({ isSure: false, caution: null })
      expect(speed!.sentence).toContain('nothing can be said about it')
    }
  })

  it('golfers are told apart by club, and sessions and cues run through without an error', () => {
    const blocks = golfers.map((golfer) => ({ label: `golfer ${golfer}`, shots: of(golfer) }))
    const reports = compareToBaseline({ blocks, metrics: ['ballSpeedMps', 'carryM'] })
    expect(reports).toHaveLength(7)
    expect(reports.some((report) => report.metrics.some((row) => row.verdict === 'changed'))).toBe(true)
    const [first] = blocks
    const session = sessionReport({
      blocks: [first!],
      metrics: ['ballSpeedMps', 'carryM'],
      options: { permutations: 199 },
    })
    const said = sessionFindings(session, { units: 'mps-m' })
    for (const metric of ['ball speed', 'carry']) {
      const ofMetric = said.filter(({ sentence }) => sentence.toLowerCase().includes(metric))
      expect(ofMetric.map(({ verdict }) => verdict.split('-')[0])).toEqual(['level'])
    }
    const tagged = {
      ...first!,
      shots: first!.shots.map((shot, i) => ({ ...shot, cues: i % 3 ? [] : ['grip'] })),
    }
    expect(
      cueFindings(cueReport({ blocks: [tagged], metrics: ['ballSpeedMps'] }), { units: 'mps-m' }),
    ).toHaveLength(1)
  })
})
