import {
  bottomToleranceSeconds,
  findSwishes,
  loudestWhere,
  stickSpeedError,
  stickSpeedMps,
} from '../../shared-core/swish/find-swishes.ts'
import {
  addHiss,
  addNeighbour,
  addStrike,
  addVoice,
  addWind,
  chanceFrom,
  type Chance,
} from '../../tests/shared-core/moments/synthetic-sound.ts'
import { addRodSwing, type RodSwing } from '../../tests/shared-core/swish/rod-sound.ts'
import { share, worldTable, type WorldRun } from './support/world.ts'

export const name = 'Swishes of a stick in sound'

const rates = [48_000, 44_100, 32_000, 16_000]
const seconds = 2.4

const between = (chance: Chance, low: number, high: number) => low + (high - low) * chance()

export const oddSwing = (chance: Chance): RodSwing => {
  const nearM = between(chance, 0.5, 0.9)
  const rise = between(chance, 0.05, 0.13)
  return {
    diameterM: between(chance, 0.005, 0.013),
    tipMps: between(chance, 15, 45),
    nearM,
    tipM: nearM + between(chance, 0.8, 1.25),
    peakSeconds: between(chance, 0.9, 1.5),
    riseSeconds: rise,
    fallSeconds: rise * between(chance, 0.7, 1.4),
    distanceM: between(chance, 1.5, 5),
    awayMps: between(chance, -5, 5),
    strouhal: between(chance, 0.185, 0.21),
  }
}

/** What a phone does to a sound: cuts the lows, evens out loudness in some, and clips. */
const throughPhone = (pcm: Float32Array, rate: number, chance: Chance) => {
  const k = Math.exp((-6.2832 * between(chance, 40, 150)) / rate)
  let x0 = 0
  let y = 0
  let loud = 0
  const evens = chance() < 0.3
  const slow = 1 - Math.exp(-1 / (0.08 * rate))
  for (let i = 0; i < pcm.length; i++) {
    const x = pcm[i]!
    y = k * (y + x - x0)
    x0 = x
    loud += slow * (Math.abs(y) - loud)
    pcm[i] = Math.max(-1, Math.min(1, evens ? y * (0.1 / (0.05 + loud)) ** 0.4 : y))
  }
}

/** Mean square of a part of a sound. */
const powerOf = (pcm: Float32Array, from = 0, to = pcm.length) => {
  let sum = 0
  for (let i = from; i < to; i++) sum += pcm[i]! ** 2
  return sum / Math.max(1, to - from)
}

export const swishScene = (chance: Chance, snrDb: number) => {
  const rate = rates[Math.floor(chance() * rates.length)]!
  const swing = oddSwing(chance)
  const own = new Float32Array(rate * seconds)
  addRodSwing(own, rate, swing, 1, chance)
  const around = new Float32Array(own.length)
  addHiss(around, 0.004, chance)
  if (chance() < 0.5) addWind(around, rate, between(chance, 0.02, 0.2), chance)
  const at = Math.round(swing.peakSeconds * rate)
  const loud = powerOf(own, at - Math.round(0.03 * rate), at + Math.round(0.03 * rate))
  const gain = Math.sqrt((10 ** (snrDb / 10) * powerOf(around)) / loud)
  const pcm = own.map((x, i) => gain * x + around[i]!)
  const scale = between(chance, 0.05, 0.9) / pcm.reduce((most, x) => Math.max(most, Math.abs(x)), 1e-9)
  for (let i = 0; i < pcm.length; i++) pcm[i]! *= scale
  throughPhone(pcm, rate, chance)
  return { pcm, rate, swing }
}

const others: Record<string, (pcm: Float32Array, rate: number, chance: Chance) => void> = {
  speech: (pcm, rate, chance) => addVoice(pcm, rate, 0.1, seconds, between(chance, 0.05, 0.5), chance),
  wind: (pcm, rate, chance) => addWind(pcm, rate, between(chance, 0.1, 1), chance),
  'ball strike': (pcm, rate, chance) =>
    addStrike(
      pcm,
      rate,
      between(chance, 0.5, 1.8),
      between(chance, 0.2, 1),
      chance,
      chance() < 0.5 ? 'driver' : 'iron',
    ),
  'neighbour’s strike in a hall': (pcm, rate, chance) =>
    addNeighbour(pcm, rate, between(chance, 0.5, 1.8), between(chance, 0.1, 0.6), chance),
  'speech, wind and a strike': (pcm, rate, chance) => {
    addVoice(pcm, rate, 0.1, 1.2, 0.2, chance)
    addWind(pcm, rate, 0.2, chance)
    addStrike(pcm, rate, 1.5, 0.6, chance)
  },
}

export function run({ small, seed, print }: WorldRun) {
  const chance = chanceFrom(seed)
  const each = small ? 6 : 60
  print(
    'Rods of 5 to 13 mm, tips at 15 to 45 m/s, from the published sum of aeolian tones (tests/shared-core/swish/rod-sound.ts), ' +
      'through a phone’s microphone, some of which even loudness out. "Where": before, at (± ' +
      `${1000 * bottomToleranceSeconds} ms) or after the bottom, which was drawn within ± 60 ms of the loudest.`,
  )
  const rows: (string | number)[][] = []
  const result = { found: 0, of: 0, within: 0, whereRight: 0, opposite: 0, falsely: 0, otherOf: 0 }
  for (const snrDb of [25, 15, 10, 5]) {
    let found = 0
    let extra = 0
    let within = 0
    let where = 0
    let opposite = 0
    const errors: number[] = []
    const timings: number[] = []
    for (let i = 0; i < each; i++) {
      const { pcm, rate, swing } = swishScene(chance, snrDb)
      const all = findSwishes(pcm, rate)
      const swish = all.find((s) => Math.abs(s.atSeconds - swing.peakSeconds) < 0.1)
      extra += all.length - (swish ? 1 : 0)
      const bottom = swing.peakSeconds + between(chance, -0.06, 0.06)
      if (!swish) continue
      found++
      const error = stickSpeedMps(swish, swing.diameterM) / swing.tipMps - 1
      errors.push(error)
      if (Math.abs(error) <= stickSpeedError) within++
      timings.push(Math.abs(swish.atSeconds - swing.peakSeconds))
      const said = loudestWhere(swish.atSeconds, bottom).where
      const truly = loudestWhere(swing.peakSeconds, bottom).where
      if (said === truly) where++
      else if (said !== 'at' && truly !== 'at') opposite++
    }
    errors.sort((a, b) => a - b)
    timings.sort((a, b) => a - b)
    const pct = (q: number) => `${(100 * (errors[Math.floor(q * (errors.length - 1))] ?? NaN)).toFixed(1)} %`
    rows.push([
      `${snrDb} dB`,
      each,
      share(found, each),
      extra,
      share(within, found),
      pct(0.05),
      pct(0.5),
      pct(0.95),
      `${(1000 * (timings[Math.floor(0.95 * (timings.length - 1))] ?? NaN)).toFixed(0)} ms`,
      share(where, found),
      opposite,
    ])
    result.opposite += opposite
    result.found += snrDb >= 10 ? found : 0
    result.of += snrDb >= 10 ? each : 0
    result.within += snrDb >= 10 ? within : 0
    result.whereRight += snrDb >= 10 ? where : 0
  }
  print(
    worldTable(
      [
        'above the noise',
        'swings',
        'found',
        'found besides',
        'speed within 15 %',
        'error 5 %',
        'median',
        '95 %',
        'time, 95 %',
        'where right',
        'before for after',
      ],
      rows,
    ),
  )
  const otherRows = Object.entries(others).map(([label, add]) => {
    let falsely = 0
    for (let i = 0; i < each; i++) {
      const rate = rates[Math.floor(chance() * rates.length)]!
      const pcm = new Float32Array(rate * seconds)
      addHiss(pcm, 0.003, chance)
      add(pcm, rate, chance)
      throughPhone(pcm, rate, chance)
      if (findSwishes(pcm, rate).length > 0) falsely++
    }
    result.falsely += falsely
    result.otherOf += each
    return [label, each, share(each - falsely, each), falsely]
  })
  print('Sounds that are no swish:')
  print(worldTable(['sound', 'tracks', 'right: none', 'wrong: a swish'], otherRows))
  return result
}
