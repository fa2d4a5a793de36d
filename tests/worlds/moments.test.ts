import { beforeAll, describe, expect, test } from 'vitest'
import { judgedFilms, tallyImpacts } from '../../scripts/worlds/moments.ts'
import { filmKinds } from './film/film-spec.ts'
import type { JudgedFilm } from './film/judge-film.ts'

const median = (values: number[]): number => values.sort((a, b) => a - b)[values.length >> 1]!

describe('40 made films, one of each kind (plain ones twice), that nothing was tuned on', () => {
  let films: JudgedFilm[] = []
  beforeAll(() => {
    films = judgedFilms(20_270_102, filmKinds.length)
  }, 400_000)

  test('impact is right where a ball was struck, and never surely wrong more than once', () => {
    const tally = tallyImpacts(films)
    console.log('impacts of made films:', JSON.stringify(tally))
    expect(tally.wrong).toBeLessThanOrEqual(1)
    expect(tally.right).toBeGreaterThanOrEqual(26)
  })

  test('a film that ends before impact, or shows a practice swing only, has no impact that is surer than not', () => {
    const without = films.filter((f) =>
      ['ends before impact', 'practice only', 'ball missed', 'trimmed, bangs'].includes(f.spec.kind),
    )
    expect(without.length).toBe(4)
    for (const film of without) {
      for (const m of film.moments) if (m.name === 'impact') expect(m.confidence).toBeLessThan(0.5)
    }
  })

  test('takeaway, top and finish are near where they are', () => {
    const errorOf = (name: string) =>
      median(
        films.flatMap((f) =>
          f.moments.flatMap((m) => (m.name === name && m.ms !== null ? Math.abs(m.ms) : [])),
        ),
      )
    expect(errorOf('takeaway')).toBeLessThanOrEqual(40)
    expect(errorOf('top')).toBeLessThanOrEqual(25)
    expect(errorOf('finish')).toBeLessThanOrEqual(110)
  })

  test('the capture rate is right or said to be unsure', () => {
    const wrong = films.filter((f) => !f.isRateRight && f.rateHow !== 'assumed')
    console.log(
      'capture rates told wrong:',
      wrong.map((f) => `${f.spec.kind}: ${f.rateSaid}`).join(', ') || 'none',
    )
    expect(wrong.length).toBeLessThanOrEqual(2)
  })
})
