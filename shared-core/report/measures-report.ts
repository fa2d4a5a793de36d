import type { ChangeBlock } from '../change/change-shot.ts'
import { compareToBaseline, type BlockComparison } from '../change/compare-blocks.ts'
import { cueReport, type CueReport } from '../change/cue-report.ts'
import { metricValues } from '../change/metric-value.ts'
import { measureNames, type MeasureName } from '../model/measures.ts'
import { blockSummary } from '../statistics/block-summary.ts'
import { median } from '../statistics/median.ts'
import { tellableValues, type MeasuredSwing } from '../swing-measures/measured-swing.ts'

/** One measure of one block: the swings that have it, their median and spread. */
export interface BlockMeasure {
  measure: MeasureName
  n: number
  median: number | null
  mad: number | null
  /** Median of the single values' errors, one standard deviation. */
  sd: number
}

/** What the clips of one block show, in the measures' own units. */
export interface BlockMeasures {
  blockId: string
  label: string
  isBaseline: boolean
  measures: BlockMeasure[]
}

/** Body and tempo by swing and block, and what changed, under the lesson's budget. */
export interface MeasuresReport {
  swings: readonly MeasuredSwing[]
  blocks: BlockMeasures[]
  comparisons: BlockComparison[]
  cues: CueReport
}

/**
 * The measures a change is looked for in; the others are shown without a verdict, so that looking at many things does not make
 * chance look like a change.
 */
export const changeMeasures: readonly MeasureName[] = [
  'tempoRatio',
  'braceBeforeImpactSeconds',
  'leadKneeImpactDeg',
  'leadKneeStraighteningDegPerS',
  'headAlongImpactWidths',
]

const changeBlock = (
  block: { id: string; label: string; isBaseline: boolean },
  swings: readonly MeasuredSwing[],
): ChangeBlock => ({
  label: block.label,
  isBaseline: block.isBaseline,
  shots: swings
    .filter((swing) => swing.blockId === block.id)
    .map((swing) => {
      const values = tellableValues(swing)
      const { club, cues, isLeftOut } = swing
      return {
        club,
        cues,
        isLeftOut,
        ...Object.fromEntries(measureNames.map((name) => [name, values[name]?.value ?? null])),
      }
    }),
})

/**
 * Swing by swing, block by block and block against baseline: what the pictures of a lesson give. What is sure among it is decided under
 * the lesson's one budget (one-budget.ts). Null without a value.
 */
export const measuresReport = (
  blocks: readonly { id: string; label: string; isBaseline: boolean }[],
  swings: readonly MeasuredSwing[],
): MeasuresReport | null => {
  const present = measureNames.filter((name) => swings.some((swing) => swing.values[name] !== undefined))
  if (present.length === 0) return null
  const sdOf = (name: MeasureName, of: readonly MeasuredSwing[]) => {
    const sds = of.flatMap((swing) => (swing.values[name] ? [swing.values[name].sd] : []))
    return sds.length > 0 ? median(sds) : 0
  }
  const measured = blocks.map((block) => changeBlock(block, swings))
  const lookedAt = changeMeasures.filter((name) => present.includes(name))
  return {
    swings,
    blocks: blocks.map((block, i) => {
      const used = measured[i]!.shots.filter((shot) => !shot.isLeftOut)
      const own = swings.filter((swing) => swing.blockId === block.id && !swing.isLeftOut)
      return {
        blockId: block.id,
        label: block.label,
        isBaseline: block.isBaseline,
        measures: present.map((measure) => {
          const { n, median, scaledMad } = blockSummary(metricValues(used, measure))
          return { measure, n, median, mad: scaledMad, sd: sdOf(measure, own) }
        }),
      }
    }),
    comparisons: compareToBaseline({
      blocks: measured,
      metrics: lookedAt,
      options: {
        // A difference below half of what one reading is unsure by is nothing to speak of.
        margins: Object.fromEntries(lookedAt.map((name) => [name, 0.5 * sdOf(name, swings)])),
      },
    }),
    cues: cueReport({ blocks: measured, metrics: lookedAt }),
  }
}
