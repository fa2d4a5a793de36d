import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { idAndKind, rangeOf } from '../../electron/main/media-request.ts'

describe('a byte range of a media request (RFC 9110, section 14)', () => {
  it.each([
    [null, { start: 0, end: 9999, isPart: false }],
    ['bytes=0-499', { start: 0, end: 499, isPart: true }],
    ['bytes=500-999', { start: 500, end: 999, isPart: true }],
    ['bytes=-500', { start: 9500, end: 9999, isPart: true }],
    ['bytes=9500-', { start: 9500, end: 9999, isPart: true }],
    ['bytes=0-0', { start: 0, end: 0, isPart: true }],
    ['bytes=9500-99999', { start: 9500, end: 9999, isPart: true }],
  ])('%s of 10000 bytes is read as the standard’s examples say', (header, range) => {
    expect(rangeOf(header, 10_000)).toEqual(range)
  })

  it.each(['bytes=10000-', 'bytes=5-2', 'bytes=-', 'bytes=-0', 'bytes=a-b', 'lines=0-1', 'bytes=0-1,3-4'])(
    '%s can’t be satisfied',
    (header) => {
      expect(rangeOf(header, 10_000)).toBeNull()
    },
  )

  it('never reaches outside of the file, whatever is asked', () => {
    fc.assert(
      fc.property(fc.nat(), fc.nat(), fc.integer({ min: 1, max: 1e9 }), (a, b, size) => {
        for (const header of [`bytes=${a}-${b}`, `bytes=${a}-`, `bytes=-${b}`]) {
          const range = rangeOf(header, size)
          if (range) expect(range.start >= 0 && range.start <= range.end && range.end < size).toBe(true)
        }
      }),
    )
  })
})

describe('the address of a media request', () => {
  it('is a clip’s id and a kind', () => {
    expect(idAndKind('media://clip/ab-12/play')).toEqual({ of: 'clip', clipId: 'ab-12', kind: 'play' })
    expect(idAndKind('media://coach/ab-12/poster')).toEqual({ of: 'coach', clipId: 'ab-12', kind: 'poster' })
  })

  it.each([
    'media://clip/../../etc/passwd',
    'media://clip/%2e%2e%2fetc%2fpasswd/play',
    'media://clip/a/b/play',
    'media://clip/a/secret',
    'media://other/a/play',
    'media://coach/a/original',
    'media://coach/../poster',
    `media://clip/${'a'.repeat(65)}/play`,
    'media://clip//play',
  ])('%s is refused', (url) => {
    expect(idAndKind(url)).toBeNull()
  })
})
