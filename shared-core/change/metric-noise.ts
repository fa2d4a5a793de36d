import { defaultDeviceError, efficiencyErrorShare } from '../impact/device-error.ts'
import type { DeviceError } from '../impact/device-error.ts'
import type { ShownMetric } from '../units.ts'

/**
 * Error that stays the same while a device stands and changes when it is placed anew, as one standard deviation
 * and a share of the value. It does not average out over the shots of a lesson.
 */
export interface SetupError {
  ballSpeedShare: number
  clubSpeedShare: number
  carryShare: number
}

/**
 * Assumptions, to be edited by the coach; no published figure could be confirmed. Half of a single reading's error
 * for the speeds: measuring 12 mm nearer the hub on a club head at 1.1 m moves club speed by 1 %. Carry also takes
 * in the air and the balls of the day.
 */
export const defaultSetupError: SetupError = { ballSpeedShare: 0.005, clubSpeedShare: 0.01, carryShare: 0.02 }

/** The device's errors, one standard deviation, if they are known better than the defaults. */
export interface NoiseOptions {
  deviceError?: DeviceError
  setupError?: SetupError
}

/** Error of one reading and of one set-up, one standard deviation each, in the metric's own unit. */
export interface MetricNoise {
  deviceErrorSd: number
  setupErrorSd: number
  /** False where nothing is known of the device's error for this metric; both numbers are then 0. */
  isKnown: boolean
}

/** The device's error of a metric at a level (for example the baseline's median). */
export function metricNoise(metric: ShownMetric, level: number, options: NoiseOptions = {}): MetricNoise {
  const { deviceError = defaultDeviceError, setupError = defaultSetupError } = options
  const size = Math.abs(level)
  const shares = (device: number, setup: number): MetricNoise => ({
    deviceErrorSd: device * size,
    setupErrorSd: setup * size,
    isKnown: true,
  })
  switch (metric) {
    case 'clubSpeedMps':
      return shares(deviceError.clubSpeedShare, setupError.clubSpeedShare)
    case 'ballSpeedMps':
      return shares(deviceError.ballSpeedShare, setupError.ballSpeedShare)
    case 'efficiency':
      return shares(
        efficiencyErrorShare(deviceError),
        Math.hypot(setupError.ballSpeedShare, setupError.clubSpeedShare),
      )
    case 'carryM':
    case 'totalM':
      return shares(deviceError.carryShare, setupError.carryShare)
    case 'spinRpm':
      return shares(deviceError.spinShare, 0)
    case 'launchDeg':
      return { deviceErrorSd: deviceError.launchDeg, setupErrorSd: 0, isKnown: true }
    default:
      return { deviceErrorSd: 0, setupErrorSd: 0, isKnown: false }
  }
}
