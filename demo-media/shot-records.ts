import type { DemoSwing, Reading } from './scenario.ts'

const mphPerMps = 2.2369362920544
const kmhPerMps = 3.6
const ydPerM = 1.0936132983377
const ftPerM = 3.2808398950131

const readingsOf = (swings: readonly DemoSwing[]): { swing: DemoSwing; reading: Reading }[] =>
  swings.flatMap((swing) => (swing.reading ? [{ swing, reading: swing.reading }] : []))

const clubWords = { driver: 'Driver', '7-iron': '7 Iron' } as const

/**
 * The device's own file: commas, points, mph, yards and feet, some columns nobody asked for; with the name of each
 * shot's block where the coach typed it into the device.
 */
export const deviceCsv = (
  swings: readonly DemoSwing[],
  player: string,
  options: { withBlocks?: boolean } = {},
): string => {
  const header = [
    'Shot',
    'Time',
    'Player',
    'Club',
    'Club Speed (mph)',
    'Ball Speed (mph)',
    'Smash Factor',
    'Launch Angle (deg)',
    'Launch Direction (deg)',
    'Spin Rate (rpm)',
    'Spin Axis (deg)',
    'Attack Angle (deg)',
    'Carry (yds)',
    'Side (yds)',
    'Apex (ft)',
    'Descent Angle (deg)',
    'Battery (%)',
    'Ball Type',
    ...(options.withBlocks ? ['Block'] : []),
  ]
  const rows = readingsOf(swings).map(({ swing, reading: r }) => [
    r.shot,
    new Date(r.atMs).toISOString().slice(0, 23).replace('T', ' '),
    player,
    clubWords[swing.spec.club],
    (r.clubSpeedMps * mphPerMps).toFixed(1),
    (r.ballSpeedMps * mphPerMps).toFixed(1),
    (r.ballSpeedMps / r.clubSpeedMps).toFixed(2),
    r.launchDeg.toFixed(1),
    r.launchDirectionDeg.toFixed(1),
    r.spinRpm.toFixed(0),
    r.spinAxisDeg.toFixed(1),
    r.attackDeg.toFixed(1),
    (r.carryM * ydPerM).toFixed(1),
    (r.sideM * ydPerM).toFixed(1),
    (r.apexM * ftPerM).toFixed(0),
    r.descentDeg.toFixed(1),
    Math.round(88 - r.shot * 0.7),
    'range',
    ...(options.withBlocks ? [swing.block.name] : []),
  ])
  return [header, ...rows].map((row) => row.join(',')).join('\r\n') + '\r\n'
}

/**
 * The same records in another dress, Windows-1252: a title line, semicolons, decimal commas, km/h and metres,
 * day first. All characters used are the same in Latin-1.
 */
export const decimalCommaCsv = (swings: readonly DemoSwing[], title: string): Buffer => {
  const comma = (value: number, digits: number): string => value.toFixed(digits).replace('.', ',')
  const header = [
    'No.',
    'Date and time',
    'Club',
    'Club speed [km/h]',
    'Ball speed [km/h]',
    'Launch angle [°]',
    'Direction [°]',
    'Spin [rpm]',
    'Spin axis [°]',
    'Angle of attack [°]',
    'Carry [m]',
    'Side [m]',
    'Height [m]',
    'Landing angle [°]',
    'Übung',
  ]
  const rows = readingsOf(swings).map(({ swing, reading: r }) => {
    const iso = new Date(r.atMs).toISOString()
    const [year, month, day] = iso.slice(0, 10).split('-')
    return [
      r.shot,
      `${day}.${month}.${year} ${iso.slice(11, 23).replace('.', ',')}`,
      clubWords[swing.spec.club],
      comma(r.clubSpeedMps * kmhPerMps, 1),
      comma(r.ballSpeedMps * kmhPerMps, 1),
      comma(r.launchDeg, 1),
      comma(r.launchDirectionDeg, 1),
      r.spinRpm.toFixed(0),
      comma(r.spinAxisDeg, 1),
      comma(r.attackDeg, 1),
      comma(r.carryM, 1),
      comma(r.sideM, 1),
      comma(r.apexM, 1),
      comma(r.descentDeg, 1),
      'freies Üben',
    ]
  })
  const lines = [[title], header, ...rows].map((row) => row.join(';'))
  return Buffer.from(lines.join('\r\n') + '\r\n', 'latin1')
}
