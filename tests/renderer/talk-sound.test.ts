import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { TalkSound, wavOf } from '../../renderer/talk/talk-sound.ts'

const rate = 1000
/** Sample n of the audio clock holds the value n, so that every sample tells where it came from. */
const soundFrom = (from: number, length: number) =>
  Float32Array.from({ length }, (_, i) => (from + i) / 32767)

describe('the sound of a recording', () => {
  test('is exactly the spans recorded, however the pieces fall and however late they come', () => {
    const spans = fc.array(fc.record({ pause: fc.nat(700), length: fc.integer({ min: 1, max: 900 }) }), {
      minLength: 1,
      maxLength: 8,
    })
    fc.assert(
      fc.property(spans, fc.integer({ min: 1, max: 300 }), fc.nat(5), (list, piece, late) => {
        const sound = new TalkSound(rate)
        const wanted: number[] = []
        const pieces: [from: number, sound: Float32Array][] = []
        let clock = 0
        const changes: [at: number, change: () => void][] = []
        for (const { pause, length } of list) {
          const [from, to] = [clock + pause, clock + pause + length]
          changes.push([from, () => sound.open(from / rate)], [to, () => sound.close(to / rate)])
          for (let n = from; n < to; n++) wanted.push(n)
          clock = to
        }
        for (let from = 0; from < clock; from += piece) pieces.push([from, soundFrom(from, piece)])
        // A piece arrives some pieces after its last sample was heard.
        let next = 0
        for (const [at, change] of changes) {
          while (next < pieces.length && pieces[next]![0] + piece * (1 + late) <= at) {
            sound.take(...pieces[next++]!)
          }
          change()
        }
        while (next < pieces.length) sound.take(...pieces[next++]!)
        expect([...sound.samples()]).toEqual(wanted)
        expect(sound.secondsAt(clock / rate + 5)).toBeCloseTo(wanted.length / rate, 9)
      }),
    )
  })

  test('stands still while it is paused and runs with the audio clock while it is not', () => {
    const sound = new TalkSound(rate)
    expect(sound.secondsAt(3)).toBe(0)
    sound.open(10)
    expect(sound.secondsAt(10.25)).toBeCloseTo(0.25, 9)
    sound.close(11)
    expect(sound.secondsAt(90)).toBeCloseTo(1, 9)
    sound.open(100)
    expect(sound.secondsAt(100.5)).toBeCloseTo(1.5, 9)
  })

  test('begins anew from a point, without what came after it', () => {
    const sound = new TalkSound(rate)
    sound.open(0)
    sound.close(1)
    sound.open(2)
    sound.close(3)
    for (let from = 0; from < 3000; from += 100) sound.take(from, soundFrom(from, 100))
    sound.cutAt(1.5)
    sound.open(5)
    sound.close(5.2)
    sound.take(5000, soundFrom(5000, 300))
    const at = (n: number) => sound.samples()[n]
    expect(sound.samples()).toHaveLength(1700)
    expect([at(999), at(1000), at(1499), at(1500), at(1699)]).toEqual([999, 2000, 2499, 5000, 5199])
  })

  test('that never arrived is silence, not a shift', () => {
    const sound = new TalkSound(rate)
    sound.open(0)
    sound.close(0.3)
    sound.take(200, soundFrom(200, 100))
    expect(sound.samples()).toHaveLength(300)
    expect([...sound.samples().subarray(0, 200)].every((s) => s === 0)).toBe(true)
    expect(sound.samples()[250]).toBe(250)
  })

  test('is written as a WAV file', () => {
    const bytes = Buffer.from(wavOf(Int16Array.of(1, -2, 300), 48_000))
    // Header of WAVE_FORMAT_PCM: Microsoft and IBM, Multimedia Programming Interface 1.0 (1991), from memory.
    expect(bytes.toString('latin1', 0, 4)).toBe('RIFF')
    expect(bytes.readUInt32LE(4)).toBe(bytes.length - 8)
    expect(bytes.toString('latin1', 8, 16)).toBe('WAVEfmt ')
    expect(bytes.readUInt32LE(24)).toBe(48_000)
    expect(bytes.readUInt32LE(40)).toBe(6)
    expect([44, 46, 48].map((at) => bytes.readInt16LE(at))).toEqual([1, -2, 300])
  })
})
