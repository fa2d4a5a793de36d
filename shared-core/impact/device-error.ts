/**
 * How far one reading of a launch monitor may be off, as one standard deviation. Shares of the value, except
 * the launch angle.
 */
export interface DeviceError {
  ballSpeedShare: number
  clubSpeedShare: number
  launchDeg: number
  spinShare: number
  carryShare: number
}

/**
 * Assumptions, to be edited by the coach: no independent accuracy figures could be confirmed. Club speed is
 * the softest, because the place on the head it is taken at alone moves it by some 2 %. Carry: the spread of
 * published flight models and balls.
 */
export const defaultDeviceError: DeviceError = {
  ballSpeedShare: 0.01,
  clubSpeedShare: 0.02,
  launchDeg: 1,
  spinShare: 0.05,
  carryShare: 0.04,
}

/** Standard deviation of efficiency as a share of it: √(σ_ball² + σ_club²), 2.2 % with the defaults. */
export const efficiencyErrorShare = (error: DeviceError = defaultDeviceError): number =>
  Math.hypot(error.ballSpeedShare, error.clubSpeedShare)
