import { Command } from 'commander'
import { airOf } from '../../../shared-core/flight/air.ts'
import { flightWithUncertainty } from '../../../shared-core/flight/flight.ts'
import { Problem } from '../../../shared-core/problem.ts'
import { fromPlain, parseQuantity, type QuantityKind } from '../../../shared-core/units.ts'
import { makeOutput } from '../output.ts'

type Options = Record<string, string | boolean | undefined>

const round = (value: number, digits: number) => Number(value.toFixed(digits))

export const flightCommand = (): Command =>
  new Command('flight')
    .description('carry, apex, landing angle, time and side of a shot')
    .requiredOption('--ball-speed <speed>', 'm/s, mph or km/h, as 74.7m/s')
    .requiredOption('--launch <angle>', 'launch angle, as 10.9deg')
    .requiredOption('--spin <rate>', 'spin, as 2686rpm')
    .option('--spin-axis <angle>', 'tilt of the spin axis, + curves right', '0')
    .option('--start-line <angle>', 'direction of the start, + right', '0')
    .option('--temperature <degrees>', 'air temperature, as 20C or 68F')
    .option(
      '--pressure <hPa>',
      'air pressure, at the place; with --altitude, reduced to sea level as weather reports give it',
    )
    .option('--altitude <height>', 'height above sea level, m or ft')
    .option('--humidity <percent>', 'relative humidity')
    .option('--wind <speed>', 'wind speed', '0')
    .option(
      '--wind-from <angle>',
      'where the wind comes from, clockwise from the target line: 0 head wind, 90 from the right',
      '0',
    )
    .action((options: Options) => {
      const output = makeOutput(Boolean(options.json))
      const value = (name: string, kind: QuantityKind): number | undefined => {
        const text = options[name.replace(/-(.)/g, (_, c: string) => c.toUpperCase())]
        return typeof text === 'string' ? parseQuantity(text, kind, `--${name}`) : undefined
      }
      const within = (name: string, number: number | undefined, low: number, high: number) => {
        if (number !== undefined && !(number >= low && number <= high)) {
          throw new Problem('usage.range', { value: number, low, high, where: `--${name}` })
        }
        return number
      }
      const result = flightWithUncertainty({
        ballSpeedMps: within('ball-speed', value('ball-speed', 'speed'), 0, 120)!,
        launchDeg: within('launch', value('launch', 'angle'), -90, 90)!,
        spinRpm: within('spin', value('spin', 'spin'), 0, 20_000)!,
        spinAxisDeg: within('spin-axis', value('spin-axis', 'angle'), -90, 90)!,
        launchDirectionDeg: within('start-line', value('start-line', 'angle'), -90, 90)!,
        air: airOf({
          temperatureC: within('temperature', value('temperature', 'temperature'), -60, 60) ?? null,
          pressureHpa: within('pressure', value('pressure', 'pressure'), 400, 1100) ?? null,
          altitudeM: within('altitude', value('altitude', 'length'), -500, 6000) ?? null,
          humidityPercent: within('humidity', value('humidity', 'humidity'), 0, 100) ?? null,
        }),
        wind: {
          speedMps: within('wind', value('wind', 'speed'), 0, 60)!,
          fromDeg: value('wind-from', 'angle')!,
        },
      })
      output.result(
        {
          carryM: round(result.carryM, 3),
          apexM: round(result.apexM, 3),
          landAngleDeg: round(result.landAngleDeg, 3),
          flightSeconds: round(result.flightSeconds, 4),
          sideM: round(result.sideM, 3),
          carrySdM: round(result.carrySdM, 2),
          models: result.models,
        },
        [
          `carry   ${result.carryM.toFixed(1)} m (${fromPlain(result.carryM, 'yd').toFixed(1)} yd), the model itself ± ${result.carrySdM.toFixed(0)} m`,
          `apex    ${result.apexM.toFixed(1)} m (${fromPlain(result.apexM, 'yd').toFixed(1)} yd)`,
          `landing ${result.landAngleDeg.toFixed(1)}° after ${result.flightSeconds.toFixed(2)} s`,
          `side    ${result.sideM.toFixed(1)} m (+ right)`,
        ],
      )
    })
