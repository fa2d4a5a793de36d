import { describe, expect, test } from 'vitest'
import { measuresReport } from '../../../shared-core/report/measures-report.ts'
import { measureNames } from '../../../shared-core/model/measures.ts'
import { restsOnCaptureRate, type MeasuredSwing } from '../../../shared-core/swing-measures/measured-swing.ts'
import { tempoMeasures, tempoRemarks } from '../../../shared-core/swing-measures/tempo-measures.ts'
import { placeAmongPublished } from '../../../shared-core/timing/tempo.ts'

const marked = (frames: Record<string, number>, how = 'coach') =>
  Object.entries(frames).map(([name, frame]) => ({ name, frame, how, isConfirmed: false }))
const steady = (rate: number, captureRate = rate) => ({
  atSeconds: Array.from({ length: 600 }, (_, i) => i / rate),
  playbackRate: rate,
  captureRate,
})

describe('tempo of a marked swing', () => {
  test('slowed footage gives real seconds; the ratio is the same at any slowness', () => {
    const frames = { takeaway: 0, top: 192, brace: 240, impact: 256 }
    const { tempoRatio, backswingSeconds, braceBeforeImpactSeconds } = tempoMeasures(
      marked(frames),
      steady(30, 240),
      'coach',
    )
    expect(backswingSeconds!.value).toBeCloseTo(0.8, 9)
    expect(tempoRatio!.value).toBeCloseTo(3, 9)
    expect(braceBeforeImpactSeconds!.value).toBeCloseTo(16 / 240, 9)
    expect(tempoMeasures(marked(frames), steady(30, 30), 'coach').tempoRatio!.value).toBeCloseTo(3, 9)
  })

  test('a file of variable rate counts by its own timestamps', () => {
    // Twice as long a frame during the downswing.
    const atSeconds = Array.from({ length: 100 }, (_, i) => (i <= 48 ? i / 60 : 48 / 60 + (i - 48) / 30))
    const { tempoRatio } = tempoMeasures(
      marked({ takeaway: 0, top: 48, impact: 56 }),
      { atSeconds, playbackRate: 60, captureRate: 60 },
      'file',
    )
    expect(tempoRatio!.value).toBeCloseTo(48 / 60 / (8 / 30), 9)
  })

  test('a guessed capture rate widens the seconds, never the ratio; marks nobody looked at widen both', () => {
    const frames = { takeaway: 0, top: 192, impact: 256 }
    const sure = tempoMeasures(marked(frames), steady(240), 'tag')
    const guessed = tempoMeasures(marked(frames), steady(240), 'motion')
    const found = tempoMeasures(marked(frames, 'motion'), steady(240), 'tag')
    expect(guessed.tempoRatio!.sd).toBe(sure.tempoRatio!.sd)
    expect(guessed.backswingSeconds!.sd).toBeGreaterThan(10 * sure.backswingSeconds!.sd)
    expect(found.tempoRatio!.sd).toBeGreaterThan(10 * sure.tempoRatio!.sd)
    expect(tempoRemarks(marked(frames), 240, 'motion').join()).toContain('240 frames/s, a guess')
    expect(tempoRemarks(marked(frames), 240, 'tag')).toEqual([])
  })

  test('what is not marked is not there, and marks out of order give no tempo', () => {
    expect(tempoMeasures(marked({ top: 10, impact: 20 }), steady(60), 'file')).toEqual({})
    expect(tempoMeasures(marked({ takeaway: 30, top: 10, impact: 20 }), steady(60), 'file')).toEqual({})
  })

  test('a ratio is placed among the published ones with its error', () => {
    expect(placeAmongPublished({ value: 3.4, sd: 0.1 })).toContain('middle half')
    expect(placeAmongPublished({ value: 2.7, sd: 0.1 })).toContain('quicker quarter')
    expect(placeAmongPublished({ value: 2.0, sd: 0.1 })).toContain('19 in 20')
    expect(placeAmongPublished({ value: 2.9, sd: 0.4 })).toContain('edge')
  })
})

describe('tempo by block', () => {
  const blocks = [
    { id: 'a', label: 'Baseline', isBaseline: true },
    { id: 'b', label: 'Soft shoulders', isBaseline: false },
  ]
  const swings = (shift: number): MeasuredSwing[] =>
    ['a', 'b'].flatMap((blockId, b) =>
      Array.from({ length: 9 }, (_, i) => ({
        swingId: `${blockId}${i}`,
        blockId,
        club: null,
        isLeftOut: false,
        cues: [],
        values: { tempoRatio: { value: 3 + shift * b + 0.05 * ((i * 7) % 9), sd: 0.1 } },
        bodyClipIds: [],
        shoulderWidthM: null,
        bodyRemarks: [],
        remarks: [],
      })),
    )

  test('swings without a shot record count, and a large change is told', () => {
    const report = measuresReport(blocks, swings(0.8))!
    expect(report.blocks.map((b) => [b.measures[0]!.n, b.measures[0]!.median])).toEqual([
      [9, expect.closeTo(3.2, 9)],
      [9, expect.closeTo(4.0, 9)],
    ])
    expect(report.comparisons[0]!.metrics[0]).toMatchObject({ metric: 'tempoRatio', verdict: 'changed' })
  })

  test('seconds by a guessed capture rate are not compared; the ratio is', () => {
    const timed = swings(0.8).map((swing) => ({
      ...swing,
      values: { ...swing.values, backswingSeconds: { value: 0.9, sd: 0.1 } },
    }))
    const guessed = timed.map((swing) => ({ ...swing, heldBack: ['backswingSeconds' as const] }))
    const counts = (of: MeasuredSwing[]) =>
      measuresReport(blocks, of)!.blocks[0]!.measures.map((m) => [m.measure, m.n])
    expect(counts(timed)).toEqual([
      ['tempoRatio', 9],
      ['backswingSeconds', 9],
    ])
    expect(counts(guessed)).toEqual([
      ['tempoRatio', 9],
      ['backswingSeconds', 0],
    ])
    expect(measureNames.filter(restsOnCaptureRate)).toEqual([
      'backswingSeconds',
      'downswingSeconds',
      'braceBeforeImpactSeconds',
      'leadKneeStraighteningDegPerS',
      'pelvisStopSeconds',
    ])
  })

  test('no change is not called one', () => {
    expect(measuresReport(blocks, swings(0))!.comparisons[0]!.metrics[0]!.verdict).not.toBe('changed')
  })

  test('without a value there is no report', () => {
    expect(measuresReport(blocks, [])).toBeNull()
  })
})
