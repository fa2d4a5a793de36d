import { windowWords } from '../window/window-words.ts'

/** Words of the command line: flight. */
export const flightTexts = windowWords({
  // flight
  carryApexLandingAngle: 'carry, apex, landing angle, time and side of a shot',
  msMphOrKmh: 'm/s, mph or km/h, as 74.7m/s',
  launchAngleAs109deg: 'launch angle, as 10.9deg',
  spinAs2686rpm: 'spin, as 2686rpm',
  tiltSpinAxisCurves: 'tilt of the spin axis, + curves right',
  directionStartRight: 'direction of the start, + right',
  airTemperatureAs20C: 'air temperature, as 20C or 68F',
  airPressureAtPlace:
    'air pressure, at the place; with --altitude, reduced to sea level as weather reports give it',
  heightAboveSeaLevel: 'height above sea level, m or ft',
  relativeHumidity: 'relative humidity',
  windSpeed: 'wind speed',
  whereWindComesFrom:
    'where the wind comes from, clockwise from the target line: 0 head wind, 90 from the right',
  landing: 'landing {landAngleDeg}° after {flightSeconds} s',
  carry: 'carry   {metres} m ({yards} yd), the model itself ± {sd} m',
  apex: 'apex    {metres} m ({yards} yd)',
  side: 'side    {metres} m (+ right)',
})
