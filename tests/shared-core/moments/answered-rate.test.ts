import { describe, expect, test } from 'vitest'
import { alsoAnswered, answeredBefore, type RatedClip } from '../../../shared-core/moments/answered-rate.ts'

const clip = (id: string, more: Partial<RatedClip> = {}): RatedClip => ({
  id,
  camera: 'face-on',
  codec: 'h264',
  width: 1080,
  height: 1920,
  playbackRate: 29.97,
  captureRate: 29.97,
  captureRateHow: 'assumed',
  slowPart: null,
  stillKind: null,
  ...more,
})
const idsOf = (clips: RatedClip[]) => clips.map((c) => c.id)

const answered = clip('answered')
const lesson = [
  answered,
  clip('same'),
  clip('same, a hair off', { playbackRate: 30, captureRate: 30 }),
  clip('other camera', { camera: 'down-the-line' }),
  clip('other size', { width: 720 }),
  clip('other coding', { codec: 'hevc' }),
  clip('other rate shown', { playbackRate: 60, captureRate: 60 }),
  clip('says 240', { captureRate: 240, captureRateHow: 'motion' }),
  clip('slow in a part', {
    captureRate: 240,
    captureRateHow: 'motion',
    slowPart: { fromSeconds: 1, toSeconds: 6 },
  }),
  clip('its file says', { captureRateHow: 'file' }),
  clip('told before', { captureRate: 120, captureRateHow: 'coach' }),
  clip('still', { stillKind: 'setup' }),
]

describe('one answer to how fast was filmed', () => {
  test('holds for the clips of that camera and setting that nobody knows of, and for no other', () => {
    expect(idsOf(alsoAnswered(answered, 29.97, lesson))).toEqual(['same', 'same, a hair off'])
  })

  test('also for those whose swing gives the same; one that shows another is still asked', () => {
    expect(idsOf(alsoAnswered(answered, 240, lesson))).toEqual(['same', 'same, a hair off', 'says 240'])
    expect(idsOf(alsoAnswered(answered, 120, lesson))).toEqual(['same', 'same, a hair off'])
  })

  test('for a film that is slow in a part, it holds for such films only; that nothing of it is slow, for the others', () => {
    const ramp = clip('ramp', {
      captureRate: 240,
      captureRateHow: 'motion',
      slowPart: { fromSeconds: 2, toSeconds: 4 },
    })
    expect(idsOf(alsoAnswered(ramp, 240, lesson))).toEqual(['slow in a part'])
    expect(idsOf(alsoAnswered(ramp, 29.97, lesson))).toEqual(['answered', 'same', 'same, a hair off'])
  })

  test('given before, holds for a clip that arrives, unless two answers were given or the clip shows another', () => {
    const told = clip('told', { captureRateHow: 'coach' })
    expect(answeredBefore(clip('new'), [...lesson.slice(0, 3)])).toBeNull()
    expect(answeredBefore(clip('new'), [told])).toBe(29.97)
    expect(answeredBefore(clip('new', { captureRate: 240, captureRateHow: 'motion' }), [told])).toBeNull()
    expect(
      answeredBefore(clip('new'), [told, clip('b', { captureRate: 240, captureRateHow: 'coach' })]),
    ).toBeNull()
    expect(answeredBefore(clip('new', { camera: 'other' }), [told])).toBeNull()
    expect(answeredBefore(clip('new', { captureRateHow: 'file' }), [told])).toBeNull()
  })
})
