import { Command } from 'commander'
import { airOf } from '../../../shared-core/flight/air.ts'
import { flightWithUncertainty } from '../../../shared-core/flight/flight.ts'
import { Problem } from '../../../shared-core/problem.ts'
import { fromPlain, parseQuantity, type QuantityKind } from '../../../shared-core/units.ts'
import { makeOutput } from '../output.ts'
import { flightTexts } from '../../../shared-core/wording/command-line/flight.ts'

type Options = Record<string, string | boolean | undefined>

const round = (value: number, digits: number) => Number(value.toFixed(digits))

export const flightCommand = (): Command =>
  new Command('flight')
    .description(flightTexts('carryApexLandingAngle'))
    .requiredOption('--ball-speed <speed>', flightTexts('msMphOrKmh'))
    .requiredOption('--launch <angle>', flightTexts('launchAngleAs109deg'))
    .requiredOption('--spin <rate>', flightTexts('spinAs2686rpm'))
    .option('--spin-axis <angle>', flightTexts('tiltSpinAxisCurves'), '0')
    .option('--start-line <angle>', flightTexts('directionStartRight'), '0')
    .option('--temperature <degrees>', flightTexts('airTemperatureAs20C'))
    .option('--pressure <hPa>', flightTexts('airPressureAtPlace'))
    .option('--altitude <height>', flightTexts('heightAboveSeaLevel'))
    .option('--humidity <percent>', flightTexts('relativeHumidity'))
    .option('--wind <speed>', flightTexts('windSpeed'), '0')
    .option('--wind-from <angle>', flightTexts('whereWindComesFrom'), '0')
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
          flightTexts('carry', {
            metres: result.carryM.toFixed(1),
            yards: fromPlain(result.carryM, 'yd').toFixed(1),
            sd: result.carrySdM.toFixed(0),
          }),
          flightTexts('apex', {
            metres: result.apexM.toFixed(1),
            yards: fromPlain(result.apexM, 'yd').toFixed(1),
          }),
          flightTexts('landing', {
            landAngleDeg: result.landAngleDeg.toFixed(1),
            flightSeconds: result.flightSeconds.toFixed(2),
          }),
          flightTexts('side', { metres: result.sideM.toFixed(1) }),
        ],
      )
    })
