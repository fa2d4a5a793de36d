import fc from 'fast-check'
import { describe, expect, test, vi } from 'vitest'
import type { Comparison, OpenLesson, Swing, View } from '../../shared-core/model/entities.ts'
import type { Drill, HandOverDraft } from '../../shared-core/model/hand-over.ts'
import { starterDrills } from '../../shared-core/model/starter-drills.ts'
import type { KeyedFinding } from '../../shared-core/report/lesson-report.ts'
import {
  addViews,
  applyTemplate,
  comparisonsInOrder,
  composedFindings,
  moved,
  removeView,
  showFinding,
  starredNotIn,
  toggleMoment,
  wordFinding,
} from '../../renderer/hand-over/draft-edits.ts'
import { laterSaver, type SaveState } from '../../renderer/hand-over/later-saver.ts'
import { drillsForLesson, loadingConcern } from '../../renderer/hand-over/plan-edits.ts'
import { starterDrillText } from '../../shared-core/wording/starter-texts.ts'

const draft = (patch: Partial<HandOverDraft> = {}): HandOverDraft => ({
  lessonId: 'lesson',
  message: '',
  swings: [],
  comparisonIds: [],
  findings: [],
  talkThroughIds: [],
  withPlan: true,
  maxHeight: 1080,
  slowBy: 8,
  coachName: '',
  accent: '',
  logoId: null,
  ...patch,
})

const view = (id: string, moments: [string, number][], patch: Partial<View> = {}): View => ({
  id,
  swingId: `swing-${id}`,
  clipId: `clip-${id}`,
  fromFrame: 0,
  toFrame: 400,
  moments: moments.map(([name, frame]) => ({
    id: `${id}-${name}`,
    viewId: id,
    name,
    frame,
    how: 'coach',
    confidence: 1,
    isConfirmed: true,
  })),
  cues: [],
  drawings: [],
  ...patch,
})

const swing = (id: string, views: View[], patch: Partial<Swing> = {}): Swing => ({
  id,
  lessonId: 'lesson',
  blockId: 'block',
  order: 1,
  shotId: null,
  pairConfidence: 0,
  pairHow: null,
  isStarred: false,
  note: '',
  didAsked: null,
  views,
  ...patch,
})

const finding = (key: string, patch: Partial<KeyedFinding> = {}): KeyedFinding =>
  ({
    key,
    topic: 'change',
    metric: 'clubSpeedMps',
    verdict: 'changed',
    sentence: `What the numbers say of ${key}`,
    howSure: 'Clear',
    isSure: true,
    isMain: true,
    howWeKnow: { data: 'shots', method: 'a method', source: 'a source' },
    caution: null,
    ...patch,
  }) as KeyedFinding

describe('what goes into the hand-over', () => {
  test('a swing goes in once, shown on impact and on every moment that was tagged or drawn on', () => {
    const tagged = view('a', [
      ['top', 100],
      ['brace', 150],
      ['impact', 160],
    ])
    tagged.cues.push({
      id: 'c',
      momentId: 'a-brace',
      kind: 'bracing-late',
      strength: 2,
      x: null,
      y: null,
      note: '',
    })
    const once = addViews(draft(), [tagged, tagged])
    const twice = addViews(once, [tagged])
    expect(twice.swings).toHaveLength(1)
    expect(twice.swings[0]!.momentIds).toEqual(['a-brace', 'a-impact'])
    expect(removeView(twice, 'a').swings).toEqual([])
  })

  test('moments stay in the order of their frames, whatever the order they were chosen in', () => {
    const one = view('a', [
      ['impact', 160],
      ['setup', 10],
      ['top', 100],
    ])
    let now = { ...addViews(draft(), [one]) }
    now = toggleMoment(now, one, 'a-top')
    now = toggleMoment(now, one, 'a-setup')
    expect(now.swings[0]!.momentIds).toEqual(['a-setup', 'a-top', 'a-impact'])
    expect(toggleMoment(now, one, 'a-top').swings[0]!.momentIds).toEqual(['a-setup', 'a-impact'])
  })

  test('a starred swing is offered until one of its pictures is in; one without a picture never is', () => {
    const [face, line] = [view('a', [['impact', 5]]), view('b', [['impact', 5]])]
    const swings = [
      swing('both', [face, line], { isStarred: true }),
      swing('plain', [view('c', [])]),
      swing('blind', [], { isStarred: true }),
    ]
    expect(starredNotIn(draft(), swings).map((s) => s.id)).toEqual(['both'])
    expect(starredNotIn(addViews(draft(), [line]), swings)).toEqual([])
  })

  test('moving keeps every thing, and puts one where it was told to', () => {
    fc.assert(
      fc.property(
        fc.uniqueArray(fc.integer(), { minLength: 1, maxLength: 12 }),
        fc.nat(11),
        fc.nat(11),
        (list, a, b) => {
          const [from, to] = [a % list.length, b % list.length]
          const after = moved(list, from, to)
          expect([...after].sort()).toEqual([...list].sort())
          expect(after[to]).toBe(list[from])
          expect(moved(after, to, from)).toEqual(list)
        },
      ),
    )
  })

  test('comparisons of the package come first, in its order; one that is gone is left out', () => {
    const comparison = (id: string) => ({ id }) as Comparison
    const rows = comparisonsInOrder(['c', 'gone', 'a'], ['a', 'b', 'c'].map(comparison))
    expect(rows.map((r) => [r.comparison.id, r.isIn])).toEqual([
      ['c', true],
      ['a', true],
      ['b', false],
    ])
  })
})

describe('findings in the coach’s words', () => {
  const [main, extra] = [finding('speed'), finding('spin', { isMain: false })]

  test('main findings are shown and the others are not, until the coach says otherwise', () => {
    const shown = (d: HandOverDraft) => composedFindings(d, [main, extra]).map((f) => f.isShown)
    expect(shown(draft())).toEqual([true, false])
    expect(shown(showFinding(showFinding(draft(), main, false), extra, true))).toEqual([false, true])
  })

  test('an edited sentence is the coach’s own and stays when the numbers move', () => {
    const edited = wordFinding(draft(), main, 'You swing faster now.')
    const later = { ...main, sentence: 'The numbers say something else now' }
    expect(composedFindings(edited, [later])[0]).toMatchObject({
      sentence: 'You swing faster now.',
      isOwnWords: true,
    })
  })

  test('the tool’s own sentence, or none, goes on following the numbers', () => {
    const later = { ...main, sentence: 'The numbers say something else now' }
    for (const text of ['', '   ', main.sentence]) {
      const back = wordFinding(wordFinding(draft(), main, 'Mine'), main, text)
      expect(composedFindings(back, [later])[0]).toMatchObject({
        sentence: later.sentence,
        isOwnWords: false,
      })
    }
  })

  test('wording a finding does not change whether it is shown', () => {
    const hidden = wordFinding(showFinding(draft(), main, false), main, 'Mine')
    expect(composedFindings(hidden, [main])[0]).toMatchObject({ isShown: false, sentence: 'Mine' })
    expect(composedFindings(wordFinding(draft(), extra, 'Mine'), [extra])[0]!.isShown).toBe(false)
  })
})

describe('templates', () => {
  const template = {
    id: 't',
    name: 'Short',
    message: 'Thank you for today.',
    slowBy: 4,
    maxHeight: 720 as const,
    withPlan: false,
  }
  test('the coach says what becomes of a message already written', () => {
    const mine = draft({ message: 'Mine' })
    expect(applyTemplate(mine, template, 'keep').message).toBe('Mine')
    expect(applyTemplate(mine, template, 'take').message).toBe('Thank you for today.')
    expect(applyTemplate(mine, template, 'below').message).toBe('Mine\n\nThank you for today.')
    expect(applyTemplate(draft(), template, 'below').message).toBe('Thank you for today.')
  })
  test('how the clips run comes with it in any case; what belongs to the lesson stays', () => {
    const before = draft({ message: 'Mine', comparisonIds: ['c'], coachName: 'Ilka Brandmoor' })
    expect(applyTemplate(before, template, 'keep')).toEqual({
      ...before,
      slowBy: 4,
      maxHeight: 720,
      withPlan: false,
    })
  })
})

describe('drills for this lesson', () => {
  const drills: Drill[] = starterDrills.map(({ key, ...d }) => ({
    ...d,
    ...starterDrillText(key),
    id: starterDrillText(key).name,
    pictureId: null,
  }))
  const cueKinds = [{ key: 'bracing-late', group: 'bracing', label: 'Lead side late', isOwn: false }]
  const lessonWith = (kinds: string[]) =>
    ({
      swings: [
        swing('s', [
          view('a', [['impact', 5]], {
            cues: kinds.map((kind, i) => ({
              id: `${i}`,
              momentId: 'a-impact',
              kind,
              strength: 1,
              x: null,
              y: null,
              note: '',
            })),
          }),
        ]),
      ],
    }) as unknown as OpenLesson
  const offer = (kinds: string[], findings: KeyedFinding[] = []) =>
    drillsForLesson({ drills, lesson: lessonWith(kinds), cueKinds, findings })

  test('nothing seen, nothing first: the library’s own order', () => {
    const offered = offer([])
    expect(offered.map((o) => o.drill.name)).toEqual(drills.map((d) => d.name))
    expect(offered.every((o) => o.serves.length === 0)).toBe(true)
  })

  test('a drill that serves a cue tagged in this lesson comes first and says which', () => {
    const [first] = offer(['bracing-late', 'bracing-late'])
    expect(first!.drill.name).toBe('Brace against a pull')
    expect(first!.serves).toEqual(['Lead side late (2×)'])
  })

  test('what holds the player back counts, too; what cannot be told does not', () => {
    const held = (verdict: 'strike' | 'cannot-tell') =>
      finding('holding-back', { topic: 'holding-back', metric: null, verdict } as Partial<KeyedFinding>)
    const served = offer([], [held('strike')]).filter((o) => o.serves.length > 0)
    expect(served.map((o) => o.drill.name)).toContain('Centre-strike ladder')
    expect(served.map((o) => o.drill.name)).not.toContain('Brace against a pull')
    expect(offer([], [held('cannot-tell')]).every((o) => o.serves.length === 0)).toBe(true)
  })

  test('limits on the card, or being a minor, are raised for what loads the body', () => {
    expect(loadingConcern({ limits: '  ', isMinor: false })).toBeNull()
    expect(loadingConcern({ limits: ' sore back ', isMinor: false })).toEqual({
      limits: 'sore back',
      isMinor: false,
    })
    expect(loadingConcern({ limits: '', isMinor: true })).toEqual({ limits: null, isMinor: true })
  })
})

describe('saving as it is typed', () => {
  const saverWith = (save: (text: string) => Promise<void>) => {
    const states: SaveState[] = []
    const problems: unknown[] = []
    const saver = laterSaver<string>({
      save,
      waitMs: 400,
      onState: (s) => states.push(s),
      onProblem: (p) => problems.push(p),
    })
    return { saver, states, problems }
  }

  test('many keys are one save, of the newest text, after the pause', async () => {
    vi.useFakeTimers()
    try {
      const saved: string[] = []
      const { saver, states } = saverWith(async (text) => void saved.push(text))
      for (const text of ['a', 'ab', 'abc']) {
        saver.put(text)
        await vi.advanceTimersByTimeAsync(200)
      }
      expect(saved).toEqual([])
      await vi.advanceTimersByTimeAsync(400)
      expect(saved).toEqual(['abc'])
      expect(states.at(-1)).toBe('saved')
    } finally {
      vi.useRealTimers()
    }
  })

  test('leaving before the pause is over loses nothing', async () => {
    const saved: string[] = []
    const { saver } = saverWith(async (text) => void saved.push(text))
    saver.put('the last word')
    expect(await saver.flush()).toBe(true)
    expect(saved).toEqual(['the last word'])
  })

  test('what is typed while a save runs is saved after it, and the older never overtakes the newer', async () => {
    const saved: string[] = []
    let release: (() => void) | undefined
    const { saver } = saverWith(
      (text) =>
        new Promise((resolve) => {
          release = () => {
            saved.push(text)
            resolve()
          }
        }),
    )
    saver.put('old')
    const done = saver.flush()
    saver.put('new')
    const again = saver.flush()
    release!()
    await vi.waitFor(() => expect(saved).toEqual(['old']))
    await vi.waitFor(() => {
      release!()
      expect(saved.at(-1)).toBe('new')
    })
    expect(await done).toBe(true)
    expect(await again).toBe(true)
    expect(saved.filter((s) => s === 'old')).toHaveLength(1)
  })

  test('a save that failed is told, kept, and made good by the next try', async () => {
    const saved: string[] = []
    let isBroken = true
    const { saver, states, problems } = saverWith(async (text) => {
      if (isBroken) throw new Error('no room on the disk')
      saved.push(text)
    })
    saver.put('kept')
    expect(await saver.flush()).toBe(false)
    expect(states.at(-1)).toBe('failed')
    expect(problems).toHaveLength(1)
    isBroken = false
    expect(await saver.flush()).toBe(true)
    expect(saved).toEqual(['kept'])
  })
})
