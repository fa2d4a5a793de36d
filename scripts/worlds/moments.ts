import { Film } from '../../tests/worlds/film/film-frames.ts'
import { cutOutFilmOf, cutOutKinds, filmKinds, filmOf } from '../../tests/worlds/film/film-spec.ts'
import { keptReading } from '../../tests/worlds/film/kept-reading.ts'
import { judgeFilm } from '../../tests/worlds/film/judge-film.ts'
import type { JudgedFilm, JudgedMoment } from '../../tests/worlds/film/judge-film.ts'
import { share, worldTable } from './support/world.ts'
import type { WorldRun } from './support/world.ts'

export const name = 'Moments and capture rate on made films'

const quantile = (values: number[], part: number): number => {
  const sorted = [...values].sort((a, b) => a - b)
  return sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * part))] ?? NaN
}

export type Tally = { right: number; wrong: number; unsure: number; none: number }

/** Impacts of films: right (said at 50 % or more), wrong (as sure), unsure (below), and none said where there is one. */
export const tallyImpacts = (films: readonly JudgedFilm[]): Tally => {
  const tally = { right: 0, wrong: 0, unsure: 0, none: 0 }
  for (const film of films) {
    const impacts = film.moments.filter((m) => m.name === 'impact')
    for (const m of impacts) tally[m.confidence < 0.5 ? 'unsure' : m.isRight ? 'right' : 'wrong']++
    tally.none += Math.max(0, film.missed - impacts.filter((m) => !m.isRight).length)
  }
  return tally
}

/** The films of a run, judged: seeds of their own for each world's seed, so that those tuned on (0 to 239) are never met. LEADSIDE_FILM_READINGS
 * may name a folder that keeps what was read. */
export const judgedFilms = (seed: number, count: number): JudgedFilm[] =>
  Array.from({ length: count }, (_, i) => {
    const film = new Film(filmOf((1 + (seed % 100_000)) * 1000 + i))
    const { reading, sound } = keptReading(film, process.env['LEADSIDE_FILM_READINGS'])
    return judgeFilm(film, reading, sound)
  })

/** What came of films, the sound of each also thrown away. */
export type BothWays = { film: JudgedFilm; mute: JudgedFilm }

const judgedBothWays = (made: Film): BothWays => {
  const { reading, sound } = keptReading(made, process.env['LEADSIDE_FILM_READINGS'])
  return { film: judgeFilm(made, reading, sound), mute: judgeFilm(made, reading, null) }
}

export const run = async ({ small, seed, print }: WorldRun): Promise<void> => {
  const first = (1 + (seed % 100_000)) * 1000
  const both = Array.from({ length: small ? filmKinds.length : 4 * filmKinds.length }, (_, i) =>
    judgedBothWays(new Film(filmOf(first + i))),
  )
  tellFilms(
    both.map((b) => b.film),
    print,
  )
  tellMute(
    'The same films, the sound of every one thrown away.',
    both.map((b) => b.mute),
    print,
  )
  const cutOut = Array.from({ length: (small ? 1 : 8) * cutOutKinds.length }, (_, i) =>
    judgedBothWays(new Film(cutOutFilmOf(first + i))),
  )
  tellMute(
    'Mute films in the spirit of what is cut out of broadcasts (160 pixels square, tight, compressed, the camera turning after the ball, ' +
      'captions, spectators), and of crowded ranges; nothing is fitted on them.',
    cutOut.map((b) => b.mute),
    print,
  )
}

/** Kinds in which no ball is to be seen going. */
const withoutBall = ['ball hidden', 'ball missed', 'ends before impact', 'practice only', 'trimmed, bangs']

/** Prints what came of films without sound, those in which no ball can be seen to go apart. */
export const tellMute = (title: string, films: readonly JudgedFilm[], print: WorldRun['print']): void => {
  print(title)
  const kinds = [...new Set(films.map((f) => f.spec.kind))].sort()
  const row = (name: string, some: readonly JudgedFilm[]) => {
    const t = tallyImpacts(some)
    const hits = some.flatMap((f) => f.moments.filter((m) => m.name === 'impact' && m.isRight)).length
    const all = hits + some.reduce((sum, f) => sum + f.missed, 0)
    return [name, some.length, `${hits}/${all}`, t.right, t.wrong, t.unsure]
  }
  const seen = films.filter((f) => !withoutBall.includes(f.spec.kind))
  const rest = films.filter((f) => withoutBall.includes(f.spec.kind))
  const names = ['mute', 'films', 'right, however sure', 'right', 'wrong', 'unsure']
  print(
    worldTable(names, [
      ...kinds.map((kind) =>
        row(
          kind,
          films.filter((f) => f.spec.kind === kind),
        ),
      ),
      row('all with a ball to be seen', seen),
      ...(rest.length > 0 ? [row('no ball to be seen going', rest)] : []),
    ]),
  )
}

/** Prints what came of the films. */
export const tellFilms = (films: readonly JudgedFilm[], print: WorldRun['print']): void => {
  print(
    `${films.length} films, ${filmKinds.length} kinds; weights fitted on the films 0 to 239, none of them here. Right: impact within one frame ` +
      '(two from 200 frames/s), takeaway within 80 ms, top 50, finish 160.',
  )
  const kinds = [...new Set(films.map((f) => f.spec.kind))].sort()
  print(
    worldTable(
      [
        'kind',
        'films',
        'impact right',
        'wrong',
        'unsure',
        'none said',
        'rate right',
        'rate wrong',
        'rate unsure',
      ],
      [...kinds, 'all'].map((kind) => {
        const some = films.filter((f) => kind === 'all' || f.spec.kind === kind)
        const t = tallyImpacts(some)
        const right = some.filter((f) => f.isRateRight)
        const unsure = some.filter((f) => !f.isRateRight && f.rateHow === 'assumed')
        return [
          ...[kind, some.length, t.right, t.wrong, t.unsure, t.none],
          ...[right.length, some.length - right.length - unsure.length, unsure.length],
        ]
      }),
    ),
  )
  const asFilmed = films.filter((f) => f.spec.captureRate === f.spec.playbackRate)
  const asked = asFilmed.filter((f) => f.rateHow === 'assumed').length
  const told = films.filter((f) => f.rateHow !== 'assumed')
  print(
    `Of ${asFilmed.length} films that play as filmed ${asked} are asked about; where a rate is told, it is right in ${share(
      told.filter((f) => f.isRateRight).length,
      told.length,
    )} of ${told.length}; of all films the rate that is read by is right in ${share(films.filter((f) => f.isRateRight).length, films.length)}, told or asked.`,
  )
  const said = films.flatMap((f) => f.moments.filter((m) => m.name === 'impact' && m.confidence >= 0.5))
  print(
    `Impacts said at 50 % or more that are wrong: ${share(said.filter((m) => !m.isRight).length, said.length)} of ${said.length}.`,
  )
  const hit = (some: JudgedFilm[]) => {
    const impacts = some.flatMap((f) => f.moments.filter((m) => m.name === 'impact' && m.isRight))
    const all = impacts.length + some.reduce((sum, f) => sum + f.missed, 0)
    return `${share(impacts.length, all)} of ${all}`
  }
  const seenBall = films.filter((f) => !f.spec.ball.isHidden)
  print(
    `Impact, however sure: with sound ${hit(films.filter((f) => f.spec.sound.has))}, without ` +
      `${hit(seenBall.filter((f) => !f.spec.sound.has))} (ball to be seen).`,
  )
  const named = (which: JudgedMoment['name']) =>
    films.flatMap((f) => f.moments.filter((m) => m.name === which))
  print(
    worldTable(
      ['moment', 'found', 'median error, ms', '90 % within, ms', 'middle (early −), ms'],
      (['takeaway', 'top', 'finish'] as const).map((which) => {
        const ms = named(which).flatMap((m) => m.ms ?? [])
        return [
          which,
          ms.length,
          quantile(ms.map(Math.abs), 0.5).toFixed(0),
          quantile(ms.map(Math.abs), 0.9).toFixed(0),
          quantile(ms, 0.5).toFixed(0),
        ]
      }),
    ),
  )
  const ratios = films.flatMap((f) => f.tempo ?? [])
  const within = (most: (t: { sd: number }) => number) =>
    share(ratios.filter((t) => Math.abs(t.error) <= most(t)).length, ratios.length)
  const ratioErrors = ratios.map((t) => Math.abs(t.error))
  print(
    `Tempo ratio of ${ratios.length} swings, by motion alone: within 0.2 in ${within(() => 0.2)}, median error ` +
      `${quantile(ratioErrors, 0.5).toFixed(2)}, said as ± ${quantile(
        ratios.map((t) => t.sd),
        0.5,
      ).toFixed(
        2,
      )} (median of one standard deviation); within one sd said ${within((t) => t.sd)}, within two ` +
      `${within((t) => 2 * t.sd)}.`,
  )
  const bands = [0, 0.2, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9]
  print('Reliability: right of said, by how sure it was said.')
  print(
    worldTable(
      ['moment', ...bands.map((b, i) => `${Math.round(100 * b)}–${Math.round(100 * (bands[i + 1] ?? 1))} %`)],
      (['takeaway', 'top', 'impact', 'finish'] as const).map((which) => [
        which,
        ...bands.map((from, i) => {
          const said = named(which).filter((m) => m.confidence >= from && m.confidence < (bands[i + 1] ?? 2))
          return said.length === 0 ? '–' : `${said.filter((m) => m.isRight).length}/${said.length}`
        }),
      ]),
    ),
  )
}
