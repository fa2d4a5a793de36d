import fc from 'fast-check'
import type { EncodedPacket } from 'mediabunny'
import { describe, expect, test, vi } from 'vitest'
import { frameAfter, msFromImpact, realSecondsBetween } from '../../shared-core/timing/clip-clock.ts'
import { joinBudget, setFrameMemory, waitingClipBytes } from '../../renderer/stage-engine/memory-budget.ts'
import { buildPacketIndex } from '../../renderer/stage-engine/packet-index.ts'
import type { HeldPicture } from '../../renderer/stage-engine/held-picture.ts'
import { lendBytes, pooledBytes, takeBackBytes } from '../../renderer/stage-engine/picture-pool.ts'
import { Player, type FrameSource, type Painter } from '../../renderer/stage-engine/player.ts'
import type { ShownPicture } from '../../renderer/stage-engine/shown-picture.ts'
import { fitted, placement, seenPart, toSource, zoomedAt } from '../../renderer/stage-engine/viewport.ts'
import { windowPlan } from '../../renderer/stage-engine/window-plan.ts'

describe('time of a clip', () => {
  test('a clip filmed at 240 and playing at 30 runs eight times slower than life', () => {
    const times = {
      atSeconds: Array.from({ length: 241 }, (_, i) => i / 30),
      playbackRate: 30,
      captureRate: 240,
    }
    expect(realSecondsBetween(times, 0, 240)).toBeCloseTo(1, 9)
    expect(msFromImpact(times, 120, 96)).toBeCloseTo(-100, 9)
  })

  test('with a variable rate the file’s own timestamps count', () => {
    const times = { atSeconds: [0, 0.02, 0.06, 0.1], playbackRate: 30, captureRate: 30 }
    expect(msFromImpact(times, 1, 2)).toBeCloseTo(40, 9)
    expect(frameAfter(times, 0, 0.05)).toBe(1)
    expect(frameAfter(times, 0, 0.06)).toBe(2)
  })

  test('the frame after the time between two frames is the later one', () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 1, max: 100 }), { minLength: 2, maxLength: 60 }),
        fc.nat(),
        fc.nat(),
        fc.constantFrom(30, 60, 240),
        (gaps, a, b, captureRate) => {
          const atSeconds = gaps.map((_, i) => gaps.slice(0, i).reduce((s, g) => s + g, 0) / 1000)
          const times = { atSeconds, playbackRate: 30, captureRate }
          const from = a % gaps.length
          const to = b % gaps.length
          expect(frameAfter(times, from, realSecondsBetween(times, from, to))).toBe(to)
        },
      ),
    )
  })
})

describe('the window of frames', () => {
  const plans = fc.record({
    frameCount: fc.integer({ min: 1, max: 500 }),
    at: fc.nat(),
    direction: fc.constantFrom(1 as const, -1 as const),
    capacity: fc.integer({ min: 1, max: 300 }),
  })

  test('never holds more than fits, always holds the playhead, and asks for every frame once, the playhead first', () => {
    fc.assert(
      fc.property(plans, ({ frameCount, at, direction, capacity }) => {
        const playhead = at % frameCount
        const { first, last, order } = windowPlan(playhead, direction, frameCount, capacity)
        const frames = [...order]
        expect(first).toBeGreaterThanOrEqual(0)
        expect(last).toBeLessThan(frameCount)
        expect(last - first + 1).toBe(Math.min(capacity, frameCount))
        expect(frames[0]).toBe(playhead)
        expect([...frames].sort((a, b) => a - b)).toEqual(
          Array.from({ length: last - first + 1 }, (_, i) => first + i),
        )
      }),
    )
  })

  test('reaches further ahead than behind, in either direction', () => {
    const forward = windowPlan(100, 1, 1000, 41)
    expect(forward.last - 100).toBeGreaterThan(2 * (100 - forward.first))
    const back = windowPlan(100, -1, 1000, 41)
    expect(100 - back.first).toBeGreaterThan(2 * (back.last - 100))
  })
})

describe('the order in which frames are decoded', () => {
  test('frames on the same key picture come together and rising, the playhead’s own first', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 200 }),
        fc.nat(),
        fc.constantFrom(1 as const, -1 as const),
        fc.integer({ min: 1, max: 100 }),
        fc.integer({ min: 1, max: 12 }),
        (frameCount, at, direction, capacity, group) => {
          const playhead = at % frameCount
          const keys = Array.from({ length: frameCount }, (_, i) => i - (i % group))
          const { first, last, order } = windowPlan(playhead, direction, frameCount, capacity, keys)
          const [head, ...rest] = order
          expect(head).toBe(playhead)
          expect([playhead, ...rest].sort((a, b) => a - b)).toEqual(
            Array.from({ length: last - first + 1 }, (_, i) => first + i),
          )
          const seen = new Set<number>()
          rest.forEach((frame, i) => {
            const before = rest[i - 1]
            if (before !== undefined && keys[before] === keys[frame]) expect(frame).toBeGreaterThan(before)
            else {
              expect(seen.has(keys[frame]!), `group of ${frame} a second time`).toBe(false)
              seen.add(keys[frame]!)
            }
          })
        },
      ),
    )
  })
})

/** Frames whose pictures come when the test says so; each knows its number. */
const framesOnCall = (frameCount: number, here: readonly number[] = []) => {
  const pictures = new Map<number, HeldPicture>()
  const put = (frame: number) => pictures.set(frame, { number: frame } as unknown as HeldPicture)
  here.forEach(put)
  const waiting = new Map<number, (isThere: boolean) => void>()
  const source: FrameSource = {
    frameCount,
    rotationDeg: 0,
    heldFrames: 0,
    heldBytes: 0,
    picture: (frame) => pictures.get(frame),
    wait: (frame) => new Promise((resolve) => waiting.set(frame, resolve)),
    aim: () => {},
    keyFrameOf: (frame) => frame - (frame % 4),
  }
  return {
    source,
    arrive: async (frame: number) => {
      put(frame)
      waiting.get(frame)?.(true)
      await settled()
    },
  }
}

/** Every turn that is due has been taken. */
const settled = () => new Promise((resolve) => setImmediate(resolve))

/** Puts a picture on show after some turns; like the real ones, it can't make two ready at a time. */
const slowPicture = (): ShownPicture => {
  let shown: HeldPicture | null = null
  let isBusy = false
  return {
    get image() {
      return shown as unknown as CanvasImageSource
    },
    take: async (picture) => {
      expect(isBusy, 'two pictures at a time').toBe(false)
      isBusy = true
      for (let turn = 0; turn < 3; turn++) await Promise.resolve()
      isBusy = false
      shown = picture
      return true
    },
    close: () => {
      shown = null
    },
  }
}

/** A player, and the frames it painted; that they were painted from their own pictures is checked at once. */
const watchedPlayer = (source: FrameSource) => {
  const painted: number[] = []
  const painter: Painter = (image, frame) => {
    expect(image).toEqual({ number: frame })
    painted.push(frame)
  }
  return { player: new Player(source, oneSecond, painter, slowPicture()), painted }
}

const oneSecond = {
  atSeconds: Array.from({ length: 241 }, (_, i) => i / 240),
  playbackRate: 240,
  captureRate: 240,
}

describe('jumps that overtake each other', () => {
  test('a picture that comes late is never painted over one that was wished for after it', async () => {
    const { source, arrive } = framesOnCall(241, [50])
    const { player, painted } = watchedPlayer(source)
    void player.show(100)
    void player.show(50)
    await settled()
    await arrive(100)
    expect(painted).toEqual([50])
    expect(player.frameAt).toBe(50)
  })

  test('while dragging, what comes on the way is painted, in the order of the requests', async () => {
    const { source, arrive } = framesOnCall(241)
    const { player, painted } = watchedPlayer(source)
    for (const frame of [10, 20, 30]) void player.show(frame)
    await settled()
    await arrive(20)
    await arrive(10)
    await arrive(30)
    expect(painted).toEqual([20, 30])
  })

  test('of many that are at hand the last one wished for stays, and each is painted under its own number', async () => {
    const { source } = framesOnCall(241, [10, 20, 30, 40])
    const { player, painted } = watchedPlayer(source)
    for (const frame of [10, 20, 30, 40]) void player.show(frame)
    await settled()
    expect(painted.at(-1)).toBe(40)
    expect(painted).toEqual(painted.toSorted((a, b) => a - b))
    expect(player.frameAt).toBe(40)
    player.repaint()
    expect(painted.at(-1)).toBe(40)
  })
})

describe('playing faster than the screen', () => {
  /** Plays at full speed on a screen of 75 refreshes a second; the frames painted, of those at hand. */
  const playedFrames = async (
    rate: number,
    isHere: (frame: number) => boolean,
    atRefresh: (refresh: number, player: Player) => void = () => {},
  ) => {
    const here = Array.from({ length: 241 }, (_, i) => i).filter(isHere)
    const { source } = framesOnCall(241, here)
    let next: ((now: number) => void) | null = null
    vi.stubGlobal('requestAnimationFrame', (callback: (now: number) => void) => {
      next = callback
      return 1
    })
    vi.stubGlobal('cancelAnimationFrame', () => {})
    try {
      const { player, painted } = watchedPlayer(source)
      player.play({ rate, direction: 1, first: 0, last: 240, loop: false })
      for (let refresh = 0; refresh <= 90 && player.isPlaying; refresh++) {
        atRefresh(refresh, player)
        next!((refresh * 1000) / 75)
        await settled()
      }
      return { painted, isDone: !player.isPlaying }
    } finally {
      vi.unstubAllGlobals()
    }
  }

  test('at 240 frames a second pictures that decode on their own are enough, and time runs true', async () => {
    const { painted, isDone } = await playedFrames(1, (frame) => frame % 4 === 0)
    expect(isDone).toBe(true)
    expect(painted.at(-1)).toBe(240)
    expect(painted.length).toBeGreaterThan(50)
    expect(painted.every((frame) => frame % 4 === 0)).toBe(true)
  })

  test('goes on from where it is when it turns out that the camera was faster', async () => {
    // A fifth of a second at half speed, taken for 30 frames a second, then for 240.
    const { painted } = await playedFrames(
      1 / 2,
      () => true,
      (refresh, player) => player.setTimes({ ...oneSecond, captureRate: refresh < 15 ? 30 : 240 }),
    )
    const steps = painted.slice(1).map((frame, i) => frame - painted[i]!)
    expect(painted[0]).toBe(0)
    // 240 × 1/2 frames a second on 75 refreshes are 1.6 of them each.
    expect(Math.max(...steps)).toBeLessThanOrEqual(2)
    expect(painted.at(-1)).toBeGreaterThan(90)
  })

  test('slowly, every frame is waited for', async () => {
    const { painted, isDone } = await playedFrames(1 / 8, (frame) => frame !== 5)
    expect(isDone).toBe(false)
    expect(painted).toEqual([0, 1, 2, 3, 4])
  })
})

describe('the memory for pictures', () => {
  test('is shared by the clips that are open, and given back by one that closes', () => {
    setFrameMemory(100)
    let told = 0
    const first = joinBudget(() => (told += 1))
    const alone = first.bytes()
    expect(alone).toBeGreaterThan(50 * 1024 * 1024)
    const second = joinBudget(() => {})
    expect(told).toBe(1)
    expect(first.bytes() + second.bytes()).toBe(alone)
    second.leave()
    expect(told).toBe(2)
    expect(first.bytes()).toBe(alone)
    // With the few clips that wait to be shown it stays within the budget.
    expect(alone + 4 * waitingClipBytes()).toBeLessThanOrEqual(100 * 1024 * 1024)
    first.leave()
    setFrameMemory(512)
  })
})

describe('the index of packets', () => {
  const packet = (timestamp: number, type: 'key' | 'delta'): EncodedPacket =>
    ({ timestamp, type, microsecondTimestamp: Math.round(timestamp * 1e6) }) as EncodedPacket

  test('frames are in the order they are shown, each with the key picture it leans on', () => {
    // Decode order I P B B I P B B; the B pictures are shown before the P.
    const packets = [
      packet(0, 'key'),
      packet(3, 'delta'),
      packet(1, 'delta'),
      packet(2, 'delta'),
      packet(4, 'key'),
      packet(7, 'delta'),
      packet(5, 'delta'),
      packet(6, 'delta'),
    ]
    const index = buildPacketIndex(packets, [0, 1, 2, 3, 4, 5, 6, 7])
    expect([...index.packetOfFrame]).toEqual([0, 2, 3, 1, 4, 6, 7, 5])
    expect([...index.keyOfFrame]).toEqual([0, 0, 0, 0, 4, 4, 4, 4])
    expect(index.frameOfMicroseconds(6_000_000)).toBe(6)
    expect(index.frameOfMicroseconds(6_500_000)).toBe(-1)
  })

  test('pictures shown before their key picture lean on the one before it', () => {
    const packets = [
      packet(0, 'key'),
      packet(1, 'delta'),
      packet(4, 'key'),
      packet(2, 'delta'),
      packet(3, 'delta'),
    ]
    const index = buildPacketIndex(packets, [0, 1, 2, 3, 4])
    expect([...index.keyOfFrame]).toEqual([0, 0, 0, 0, 2])
  })

  test('packets before the start of the film are decoded but are no frames', () => {
    const packets = [packet(-2, 'key'), packet(-1, 'delta'), packet(0, 'delta'), packet(1, 'delta')]
    const index = buildPacketIndex(packets, [0, 1])
    expect(index.frameCount).toBe(2)
    expect([...index.packetOfFrame]).toEqual([2, 3])
    expect([...index.keyOfFrame]).toEqual([0, 0])
  })
})

describe('the picture on the canvas', () => {
  const picture = { width: 1080, height: 1920 }
  const canvas = { width: 800, height: 600 }

  test('fits as a whole, in the middle', () => {
    const view = fitted(picture, canvas)
    const place = placement(view, picture, canvas, false)
    expect(picture.height * place.scaleY).toBeCloseTo(600, 9)
    expect(place.x + (picture.width * place.scaleX) / 2).toBeCloseTo(400, 9)
  })

  test('zooming keeps the pixel under the pointer where it is, mirrored or not', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 200, max: 600 }),
        fc.integer({ min: 100, max: 500 }),
        fc.double({ min: 1, max: 3, noNaN: true }),
        fc.boolean(),
        (x, y, factor, isMirrored) => {
          const before = fitted(picture, canvas)
          const after = zoomedAt(before, factor, { x, y }, picture, canvas)
          const a = toSource({ x, y }, before, picture, canvas, isMirrored)
          const b = toSource({ x, y }, after, picture, canvas, isMirrored)
          expect(b.x).toBeCloseTo(a.x, 6)
          expect(b.y).toBeCloseTo(a.y, 6)
        },
      ),
    )
  })
})

describe('the part of a picture that is seen', () => {
  const picture = { width: 1920, height: 1080 }
  const canvas = { width: 800, height: 600 }

  test('is all of it where it is fitted', () => {
    expect(seenPart(null, picture, canvas)).toBeNull()
    expect(seenPart(fitted(picture, canvas), picture, canvas)).toBeNull()
  })

  test('is where the canvas’s corners fall in the picture', () => {
    const view = zoomedAt(fitted(picture, canvas), 3, { x: 120, y: 380 }, picture, canvas)
    const part = seenPart(view, picture, canvas)!
    const corner = toSource({ x: 0, y: 0 }, view, picture, canvas, false)
    const opposite = toSource({ x: 800, y: 600 }, view, picture, canvas, false)
    expect(part.x).toBeCloseTo(corner.x, 0)
    expect(part.y).toBeCloseTo(corner.y, 0)
    expect(part.x + part.width).toBeCloseTo(opposite.x, 0)
    expect(part.y + part.height).toBeCloseTo(opposite.y, 0)
    expect(part.width).toBeCloseTo(1920 / 3, 0)
  })
})

describe('the memory of pictures that were let go', () => {
  const lengths = fc.array(
    fc.record({ length: fc.constantFrom(1, 2, 5).map((mb) => mb * 1024 * 1024), back: fc.nat() }),
    { maxLength: 60 },
  )

  test('is lent again, never to two at a time, and stays within the budget', () => {
    setFrameMemory(20)
    try {
      fc.assert(
        fc.property(lengths, (requests) => {
          const lent: Uint8Array<ArrayBuffer>[] = []
          for (const { length, back } of requests) {
            const lentBytes = () => lent.reduce((sum, bytes) => sum + bytes.length, 0)
            while (lentBytes() + length > 20 * 1024 * 1024) {
              takeBackBytes(lent.splice(back % lent.length, 1)[0]!)
            }
            const bytes = lendBytes(length)
            expect(bytes.length).toBe(length)
            expect(lent.some((other) => other.buffer === bytes.buffer)).toBe(false)
            lent.push(bytes)
            expect(pooledBytes()).toBeLessThanOrEqual(20 * 1024 * 1024)
          }
          for (const bytes of lent) takeBackBytes(bytes)
          const last = lent.at(-1)
          if (last) {
            const again = lendBytes(last.length)
            expect(again.buffer, 'lent again').toBe(last.buffer)
            takeBackBytes(again)
          }
        }),
        { numRuns: 50 },
      )
    } finally {
      setFrameMemory(512)
    }
  })
})
