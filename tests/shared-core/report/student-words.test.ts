import { syllable } from 'syllable'
import { describe, expect, test } from 'vitest'
import { readingEase, syllables } from '../../../shared-core/report/reading-ease.ts'
import { variedReport } from '../../../scripts/worlds/support/varied-lesson.ts'
import {
  inStudentWords,
  seasonInStudentWords,
  seasonStudentText,
  studentText,
} from '../../../shared-core/report/student-words.ts'
import { sayIn } from '../../../shared-core/wording/say.ts'
import type { KeyedFinding, LessonReport } from '../../../shared-core/report/lesson-report.ts'

const topics = [
  ...(['holding-back', 'change', 'session', 'cue', 'kept', 'play-speed', 'strike'] as const),
  ...(['season', 'plan'] as const),
]
const metrics = [null, 'efficiency', 'clubSpeedMps', 'ballSpeedMps', 'carryM', 'tempoRatio'] as const

const report = {
  comparisons: [],
  kept: null,
  units: 'mph-yd',
  holdingBack: { verdict: 'strike', strike: { gainM: 20 }, speed: null, isStrikeFirst: false },
  playSpeed: { suggestedMps: [40, 42], bandMps: [40, 43] },
} as unknown as LessonReport

const verdictOf = (topic: string, isSure: boolean): string =>
  topic === 'season' ? (isSure ? 'rising' : 'cannot-tell') : isSure ? 'changed' : 'cannot-tell'

const texts = topics.flatMap((topic) =>
  metrics.flatMap((metric) =>
    [true, false].map((isSure) => {
      const finding = {
        ...{
          topic,
          metric,
          isSure,
          verdict: verdictOf(topic, isSure),
          key: `${topic}:Soft shoulders:${metric ?? 'all'}`,
        },
        sentence: 'Efficiency was 0.05 lower in “Soft shoulders” (95 % interval −0.23 to −0.02).',
      } as KeyedFinding
      return { isSure, topic, ...studentText(finding, report, sayIn('en')) }
    }),
  ),
)

describe('a finding in the student’s words', () => {
  test('has no interval, share or term of the report in it', () => {
    for (const { sentence, howSure } of texts) {
      expect(`${sentence} ${howSure}`).not.toMatch(/interval|%|efficiency|±|[−-]\d|median|\bp\b/i)
    }
  })

  test('says that it is sure only where the finding is', () => {
    for (const { topic, isSure, howSure } of texts) {
      // What holds back goes by its own verdict.
      if (topic !== 'holding-back') expect(howSure === 'We are sure of this.').toBe(isSure)
    }
  })

  test('reads easily: 70 and more on Flesch’s scale, all together and each kind', () => {
    for (const topic of topics) {
      const all = texts.filter((t) => t.topic === topic).map((t) => `${t.sentence} ${t.howSure}`)
      expect(readingEase(all.join(' ')), topic).toBeGreaterThanOrEqual(70)
    }
  })
})

describe('generated lessons in the student’s words', () => {
  // Lessons as odd as lessons are; every finding, not only those that are shown first.
  const lessons = Array.from({ length: 40 }, (_, i) => variedReport(4_200_000 + 31 * i))
  const say = sayIn('en')

  test('read easily, each lesson by itself, and say no interval, share or term of the report', () => {
    const eases = lessons.flatMap((lesson) => {
      const said = inStudentWords(lesson, say).findings.map((f) => `${f.sentence} ${f.howSure}`)
      for (const text of said) expect(text).not.toMatch(/interval|%|efficiency|±|[−-]\d|median|undefined|\{/i)
      return readingEase(said.join(' ')) ?? []
    })
    console.log(`reading ease of ${eases.length} generated lessons: least ${Math.min(...eases).toFixed(0)}`)
    expect(eases.length).toBeGreaterThan(30)
    expect(Math.min(...eases)).toBeGreaterThanOrEqual(70)
  })

  test('are said sure only where the coach is told so', () => {
    for (const lesson of lessons) {
      const student = inStudentWords(lesson, say).findings
      for (const [i, { isSure, topic }] of lesson.findings.entries()) {
        if (topic !== 'holding-back' && student[i]!.howSure === say('sure')) expect(isSure).toBe(true)
      }
    }
  })
})

describe('the season in the student’s words', () => {
  test('what was kept of several numbers is one sentence that names them, apart from what was lost', () => {
    const kept = (metric: 'efficiency' | 'carryM' | 'clubSpeedMps', verdict: string) =>
      ({ topic: 'kept', verdict, sentence: '', metric, isSure: true }) as const
    const said = seasonInStudentWords(
      [kept('efficiency', 'kept'), kept('clubSpeedMps', 'lost'), kept('carryM', 'kept')],
      sayIn('en'),
    ).map((f) => f.sentence)
    expect(said).toEqual([
      'What you gained last time is still there: how well you hit the ball and how far the ball flies. Well done.',
      'Some of what you gained last time is gone: your club speed. That is normal. Go back to the feel from then.',
    ])
  })

  const said = (topic: 'season' | 'plan', verdict: string, sentence = '') =>
    seasonStudentText({ topic, verdict, sentence, metric: 'clubSpeedMps', isSure: false }, sayIn('en'))
      .sentence

  test('goes the way the finding goes, and blames or praises nothing for it', () => {
    expect(said('season', 'rising')).toContain('has gone up')
    expect(said('season', 'falling')).toContain('has gone down')
    expect(said('plan', 'changed', 'Club speed was 2.0 mph faster at the start')).toContain('has gone up')
    expect(said('plan', 'changed', 'Club speed was 2.0 mph slower at the start')).toContain('has gone down')
    for (const verdict of [
      'rising',
      'falling',
      'personal-best',
      'best-not-clear',
      'lessons-alike',
      'too-early',
    ]) {
      const finding = { topic: 'season', verdict, sentence: '', metric: 'carryM', isSure: false } as const
      const { sentence, howSure } = seasonStudentText(finding, sayIn('en'))
      expect(`${sentence} ${howSure}`).not.toMatch(/because|interval|%/)
      expect(readingEase(`${sentence} ${howSure}`), sentence).toBeGreaterThanOrEqual(70)
    }
  })
})

describe('reading ease', () => {
  test('agrees with a general-purpose library on the syllables of everything we say, and on the ease that follows', () => {
    const words = texts.flatMap(({ sentence, howSure }) => `${sentence} ${howSure}`.match(/[A-Za-z]+/g) ?? [])
    const different = [...new Set(words)].filter((word) => syllables(word) !== syllable(word))
    expect(new Set(words).size).toBeGreaterThan(80)
    expect(different.length / new Set(words).size, different.join()).toBeLessThanOrEqual(0.05)
    const count = (of: (word: string) => number) =>
      words.reduce((sum, word) => sum + Math.max(1, of(word)), 0)
    // 84.6 points a syllable a word: within three points.
    expect(Math.abs(count(syllables) - count(syllable)) / words.length).toBeLessThan(3 / 84.6)
  })

  test('counts syllables as dictionaries divide words', () => {
    // Divided as in Merriam-Webster (from memory).
    const known = { ball: 1, strike: 1, lesson: 2, shoulder: 2, better: 2, hitting: 2, practised: 2 }
    for (const [word, count] of Object.entries(known)) expect([word, syllables(word)]).toEqual([word, count])
  })

  test('is Flesch’s formula, worked by hand', () => {
    // Six words, one sentence, six syllables: 206.835 − 1.015 × 6 − 84.6 × 1.
    expect(readingEase('The ball went on and on.')).toBeCloseTo(116.145, 3)
    expect(readingEase('')).toBeNull()
  })
})
