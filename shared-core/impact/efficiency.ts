import type { ShotMetrics } from '../model/shot.ts'
import type { DeviceError } from './device-error.ts'
import { defaultDeviceError, efficiencyErrorShare } from './device-error.ts'

/** A value with its standard uncertainty in the same unit. */
export interface Uncertain {
  value: number
  sd: number
}

/** True for a speed something was struck with; below 0.1 m/s a device has seen nothing. */
export const isSpeed = (value: number | null | undefined): value is number =>
  value !== null && value !== undefined && Number.isFinite(value) && value >= 0.1

/**
 * Efficiency: ball speed over club speed, with the device's error carried through; null if either is missing
 * or no speed at all.
 */
export function efficiencyOf(
  shot: Partial<Pick<ShotMetrics, 'ballSpeedMps' | 'clubSpeedMps'>>,
  error: DeviceError = defaultDeviceError,
): Uncertain | null {
  const { ballSpeedMps, clubSpeedMps } = shot
  if (!isSpeed(ballSpeedMps) || !isSpeed(clubSpeedMps)) return null
  const value = ballSpeedMps / clubSpeedMps
  return { value, sd: value * efficiencyErrorShare(error) }
}
