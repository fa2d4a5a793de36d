import type { DeviceError } from '../impact/device-error.ts'
import { defaultDeviceError } from '../impact/device-error.ts'
import type { ShotMetrics } from '../model/shot.ts'
import type { Air } from './air.ts'
import { standardAir } from './air.ts'
import type { FlightInput, Wind } from './flight.ts'
import { flight, flightWithUncertainty } from './flight.ts'
import { typicalLaunch } from './typical-launch.ts'
import { andList, phrase, said, type Word } from '../wording/phrase.ts'

/** What carry needs of a shot; everything may be missing. */
export type CarryShot = { club: string | null } & Partial<
  Pick<
    ShotMetrics,
    'ballSpeedMps' | 'launchDeg' | 'spinRpm' | 'spinAxisDeg' | 'launchDirectionDeg' | 'carryM'
  >
>

/** How far a shot carried, and how that is known. */
export interface CarryAnswer {
  carryM: number | null
  /** One standard uncertainty, device and model together. */
  sdM: number | null
  how: 'measured' | 'computed' | null
  /** Metrics that were missing and taken from the typical launch of the club. */
  assumed: ('launchDeg' | 'spinRpm')[]
  /** One sentence for the coach: what it rests on, or why there is none. */
  note: string
}

const none = (note: string): CarryAnswer => ({ carryM: null, sdM: null, how: null, assumed: [], note })

const usable = (value: number | null | undefined, low: number, high: number): value is number =>
  value !== null && value !== undefined && value >= low && value <= high

/** Launch and spin of a shot, with typical ones where missing; null with the reason if neither can be had. */
export interface LaunchUsed {
  launchDeg: number
  launchSdDeg: number
  spinRpm: number
  spinSdRpm: number
  assumed: ('launchDeg' | 'spinRpm')[]
  /** What it rests on. */
  note: Word
}

/** The launch a flight is computed with: measured where the shot has it, else typical for the club, saying so. */
export function launchOf(
  shot: Pick<CarryShot, 'club' | 'launchDeg' | 'spinRpm'>,
  error: DeviceError = defaultDeviceError,
): LaunchUsed | { reason: Word } {
  const hasLaunch = usable(shot.launchDeg, -90, 90)
  const hasSpin = usable(shot.spinRpm, 0, 20_000)
  const typical = hasLaunch && hasSpin ? null : typicalLaunch(shot.club)
  if (!(hasLaunch && hasSpin) && !typical) {
    const what = andList([
      ...(hasLaunch ? [] : [phrase('carry.launchAngle')]),
      ...(hasSpin ? [] : [phrase('carry.spin')]),
    ])
    return { reason: phrase('carry.noTypical', { what, club: shot.club ?? phrase('text.anUnknownClub') }) }
  }
  const assumed: LaunchUsed['assumed'] = []
  if (!hasLaunch) assumed.push('launchDeg')
  if (!hasSpin) assumed.push('spinRpm')
  const words = [
    hasLaunch
      ? null
      : phrase('carry.assumedLaunch', {
          launch: String(typical!.launchDeg),
          sd: String(typical!.launchSdDeg),
        }),
    hasSpin
      ? null
      : phrase('carry.assumedSpin', {
          spin: Math.round(typical!.spinRpm / 100) * 100,
          sd: Math.round(typical!.spinSdRpm / 100) * 100,
        }),
  ].filter((word) => word !== null)
  return {
    launchDeg: hasLaunch ? shot.launchDeg! : typical!.launchDeg,
    launchSdDeg: hasLaunch ? error.launchDeg : typical!.launchSdDeg,
    spinRpm: hasSpin ? shot.spinRpm! : typical!.spinRpm,
    spinSdRpm: hasSpin ? error.spinShare * shot.spinRpm! : typical!.spinSdRpm,
    assumed,
    note: typical
      ? phrase('carry.assumed', { what: andList(words), basis: typical.basis })
      : phrase('carry.asRecorded'),
  }
}

/** Carry's standard uncertainty from the inputs' own, by central differences (GUM 5.1.2), metres. */
function inputSdM(input: FlightInput, used: LaunchUsed, error: DeviceError): number {
  const carryWith = (change: Partial<FlightInput>) => flight({ ...input, ...change }).carryM
  const half = (key: 'ballSpeedMps' | 'launchDeg' | 'spinRpm', sd: number, low: number, high: number) =>
    (carryWith({ [key]: Math.min(high, input[key] + sd) }) -
      carryWith({ [key]: Math.max(low, input[key] - sd) })) /
    2
  return Math.hypot(
    half('ballSpeedMps', error.ballSpeedShare * input.ballSpeedMps, 0, 150),
    half('launchDeg', used.launchSdDeg, -90, 90),
    half('spinRpm', used.spinSdRpm, 0, 20_000),
  )
}

const flightInputOf = (shot: CarryShot, used: LaunchUsed, air: Air, wind?: Wind): FlightInput => ({
  ballSpeedMps: shot.ballSpeedMps!,
  launchDeg: used.launchDeg,
  spinRpm: used.spinRpm,
  spinAxisDeg: usable(shot.spinAxisDeg, -180, 180) ? shot.spinAxisDeg : 0,
  launchDirectionDeg: usable(shot.launchDirectionDeg, -180, 180) ? shot.launchDirectionDeg : 0,
  air,
  wind,
})

/** Carry of a shot: the device's if it gave one, else the flight of the ball in `air`, with what was assumed. */
export function carryOf(
  shot: CarryShot,
  {
    air = standardAir,
    wind,
    error = defaultDeviceError,
  }: { air?: Air; wind?: Wind; error?: DeviceError } = {},
): CarryAnswer {
  if (usable(shot.carryM, 0, 1000)) {
    return {
      carryM: shot.carryM,
      sdM: error.carryShare * shot.carryM,
      how: 'measured',
      assumed: [],
      note: said('carry.ofDevice'),
    }
  }
  if (!usable(shot.ballSpeedMps, 0, 150)) return none(said('carry.noBallSpeed'))
  const used = launchOf(shot, error)
  if ('reason' in used) return none(said('carry.notComputed', { reason: used.reason }))
  const input = flightInputOf(shot, used, air, wind)
  const result = flightWithUncertainty(input)
  return {
    carryM: result.carryM,
    sdM: Math.hypot(result.carrySdM, inputSdM(input, used, error)),
    how: 'computed',
    assumed: used.assumed,
    note: said('carry.computed', { note: used.note }),
  }
}

/** A carry as it would have been in standard air. */
export interface StandardCarry extends CarryAnswer {
  /** Carry in standard air over carry in the air of the day, by the flight model. */
  ratio: number | null
}

/**
 * A shot's carry brought to standard air and no wind, so that days can be compared: the carry of the day times
 * the ratio of two computed flights (the model's own error nearly cancels in the ratio).
 * @param air the air the shot was hit in
 */
export function carryInStandardAir(
  shot: CarryShot,
  air: Air,
  { wind, error = defaultDeviceError }: { wind?: Wind; error?: DeviceError } = {},
): StandardCarry {
  const today = carryOf(shot, { air, wind, error })
  if (today.carryM === null) return { ...today, ratio: null }
  if (!usable(shot.ballSpeedMps, 0, 150)) {
    return { ...none(said('carry.noStandardAir')), ratio: null }
  }
  const used = launchOf(shot, error)
  if ('reason' in used) {
    return { ...none(said('carry.notStandardAir', { reason: used.reason })), ratio: null }
  }
  const there = flight(flightInputOf(shot, used, air, wind)).carryM
  const standard = flight(flightInputOf(shot, used, standardAir)).carryM
  // A topped ball does not fly; the air makes no difference to it.
  const ratio = there > 0 ? standard / there : 1
  return {
    ...today,
    carryM: today.carryM * ratio,
    sdM: today.sdM! * ratio,
    ratio,
    assumed: used.assumed,
    note: said('carry.standardAir', { note: today.note, launch: used.note }),
  }
}
