import { defaultDeviceError, type DeviceError } from '../../../shared-core/impact/device-error.ts'
import { defaultSetupError } from '../../../shared-core/change/metric-noise.ts'
import type { ReportInput, ReportShot } from '../../../shared-core/report/report-input.ts'
import { mersenneGenerator } from '../../../shared-core/statistics/generator.ts'
import type { Generator } from '../../../shared-core/statistics/generator.ts'

export const mph = 0.44704

/** Normal draws (Box & Muller 1958) from a uniform generator. */
export const normalFrom =
  (uniform: Generator): Generator =>
  () =>
    Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform())

export interface Truth {
  club?: string
  /** Shots of each block, the baseline first. */
  blocks: number[]
  /** Names of the blocks; else "Block 1" and so on. */
  labels?: string[]
  speedMph?: number
  speedSdMph?: number
  efficiency?: number
  efficiencySd?: number
  /** Added to the speed and the efficiency of a block's shots. */
  speedStepMph?: number[]
  efficiencyStep?: number[]
  /** From the first to the last shot of the lesson. */
  driftMph?: number
  /** Of consecutive shots, in speed and in efficiency. */
  autocorrelation?: number
  /** Chance of a mishit: 4 standard deviations low in efficiency. */
  mishits?: number
  /** Skewed scatter: an exponential tail to the slow side. */
  skewed?: boolean
  withDirection?: boolean
  withFace?: boolean
  withCues?: boolean
  launchDeg?: number | null
  spinRpm?: number
  error?: Partial<DeviceError>
}

export const goodDevice: Partial<DeviceError> = {
  clubSpeedShare: 0.01,
  ballSpeedShare: 0.005,
  carryShare: 0.02,
}

const air = { temperatureC: null, pressureHpa: null, altitudeM: null, humidityPercent: null }

/** A lesson's shots as a device with its own error would have logged them. */
export function inventedLesson(truth: Truth, seed: number): ReportInput {
  const uniform = mersenneGenerator(seed)
  const normal = normalFrom(uniform)
  const error = { ...defaultDeviceError, ...truth.error }
  const {
    club = 'driver',
    speedMph = 90,
    speedSdMph = 1.5,
    efficiency = 1.42,
    efficiencySd = 0.025,
    autocorrelation: rho = 0,
  } = truth
  const total = truth.blocks.reduce((sum, n) => sum + n, 0)
  const scatter = () => (truth.skewed ? 1 + Math.log(1 - uniform()) : normal())
  let last = { speed: normal(), strike: normal() }
  let place = 0
  const blocks = truth.blocks.map((n, b) => ({
    id: `b${b}`,
    label: truth.labels?.[b] ?? `Block ${b + 1}`,
    isBaseline: b === 0,
    shots: Array.from({ length: n }, (): ReportShot => {
      const fresh = Math.sqrt(1 - rho ** 2)
      last = { speed: rho * last.speed + fresh * scatter(), strike: rho * last.strike + fresh * scatter() }
      const drift = ((truth.driftMph ?? 0) * place) / Math.max(1, total - 1)
      const speed = (speedMph + (truth.speedStepMph?.[b] ?? 0) + drift + speedSdMph * last.speed) * mph
      const miss = uniform() < (truth.mishits ?? 0) ? 4 * efficiencySd : 0
      const strike = efficiency + (truth.efficiencyStep?.[b] ?? 0) + efficiencySd * last.strike - miss
      const ball = speed * strike
      place += 1
      const face = truth.withFace ? { impactXMm: 8 * normal(), impactYMm: 6 * normal() } : {}
      return {
        id: `s${place}`,
        club,
        cues: truth.withCues ? ['grip', 'release'].filter(() => uniform() < 0.4) : [],
        isLeftOut: false,
        clubSpeedMps: speed * (1 + error.clubSpeedShare * normal()),
        ballSpeedMps: ball * (1 + error.ballSpeedShare * normal()),
        carryM: (3.6 * ball - 32) * (1 + error.carryShare * normal()),
        launchDeg: truth.launchDeg === null ? null : (truth.launchDeg ?? 12.5) + normal(),
        spinRpm: (truth.spinRpm ?? 2700) * (1 + 0.08 * normal()),
        ...(truth.withDirection ? { launchDirectionDeg: 2.5 * normal() } : {}),
        ...face,
      }
    }),
  }))
  return {
    lesson: { label: 'Lesson', date: '2026-05-01', air, blocks },
    earlier: [],
    ownEfficiencies: {},
    deviceError: error,
    setupError: defaultSetupError,
    margins: {},
    units: 'mph-yd',
    cueLabels: {},
  }
}
