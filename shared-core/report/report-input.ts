import type { SetupError } from '../change/metric-noise.ts'
import type { DeviceError } from '../impact/device-error.ts'
import type { LessonAir } from '../model/entities.ts'
import type { AssumedUnit, ShotMetrics } from '../model/shot.ts'
import type { Withheld } from '../shots/usable.ts'
import type { MeasuredSwing } from '../swing-measures/measured-swing.ts'
import type { ShownMetric, UnitSystem } from '../units.ts'

/** One shot as the report needs it: its numbers, its club, the cues of its swing. */
export interface ReportShot extends Partial<ShotMetrics> {
  id: string
  club: string | null
  cues: readonly string[]
  isLeftOut: boolean
  /** Values taken out because they can't be (shots/usable.ts); null above. */
  withheld?: readonly Withheld[]
  /** Units nobody has confirmed. */
  assumed?: readonly AssumedUnit[]
}

/** A block as a report needs it. */
export interface ReportBlock {
  id: string
  label: string
  isBaseline: boolean
  /** In the order they were hit. */
  shots: readonly ReportShot[]
}

/** A lesson as a report needs it. */
export interface ReportLesson {
  label: string
  /** YYYY-MM-DD */
  date: string
  air: LessonAir
  blocks: readonly ReportBlock[]
}

/** Everything a lesson's report is made from; it reads nothing else. */
export interface ReportInput {
  lesson: ReportLesson
  /** The student's lessons before this one, oldest first; the latest ones will do. */
  earlier: readonly ReportLesson[]
  /** The student's own efficiencies by club from all lessons, without flagged shots; for the measured ceiling. */
  ownEfficiencies: Readonly<Record<string, readonly number[]>>
  deviceError: DeviceError
  setupError: SetupError
  margins: Partial<Record<ShownMetric, number>>
  units: UnitSystem
  cueLabels: Readonly<Record<string, string>>
  metrics?: readonly ShownMetric[]
  /** What the swings' pictures give. */
  measured?: readonly MeasuredSwing[]
}
