import { cameraShift, shifted } from './camera-shift.ts'
import { MotionCurveBuilder } from './motion-curve.ts'
import type { GreyFrame, MotionCurve } from './motion-curve.ts'
import { shrinker } from './shrink.ts'
import { SweptGround } from './swept-ground.ts'
import type { SweptSpot } from './swept-ground.ts'
import { SpotWatcher } from './vanished-spots.ts'
import type { VanishedSpot } from './vanished-spots.ts'

/** What one reading of a film's pictures gives. */
export type FilmReading = {
  curve: MotionCurve
  spots: VanishedSpot[]
  /** What lay on the ground before the fastest motion and not after it. */
  swept: SweptSpot[]
  /** 0 to 1: how much a ball still lies there at the end. */
  ballLies: number
  width: number
  height: number
}

/** Pixels of the pictures in which the ball is looked for, and of those in which movement is measured. */
export const ballArea = 480 * 270
const curveArea = 160 * 120
/** Smaller movements of the camera than this are the measuring's own noise, pixels of the small picture. */
const minShiftPx = 0.1
const referenceFrames = 40

/**
 * Reads a film's frames in order, once: takes out what the camera itself moved, measures how much the rest changes, and
 * watches for spots that vanish. Holds some 450 frames, however long the film is.
 */
export class FilmReader {
  private readonly curve = new MotionCurveBuilder()
  private watcher: SpotWatcher | null = null
  private ground: SweptGround | null = null
  private small: ReturnType<typeof shrinker> | null = null
  private reference: Uint8Array | null = null
  private sinceReference = 0
  private base = { x: 0, y: 0 }
  private shift = { x: 0, y: 0 }
  private size = { width: 0, height: 0 }
  /** Where pictures are moved; the watcher and the curve keep their own copies. */
  private moved = new Uint8Array()
  private smallMoved = new Uint8Array()

  /** Takes the next frame; its pixels may be written over afterwards. */
  push(frame: GreyFrame): void {
    const { width, height } = frame
    if (!this.small || !this.watcher || !this.ground) {
      this.size = { width, height }
      this.small = shrinker(frame, curveArea)
      this.watcher = new SpotWatcher(width, height)
      this.ground = new SweptGround(this.watcher)
      this.moved = new Uint8Array(width * height)
      this.smallMoved = new Uint8Array(this.small.width * this.small.height)
    }
    const { width: w, height: h } = this.small
    const small = this.small.shrink(frame.pixels)
    const { reference } = this
    if (reference?.length === small.length) {
      const shift = cameraShift(reference, small, w, h, this.shift)
      this.shift = Math.hypot(shift.x, shift.y) > minShiftPx ? shift : { x: 0, y: 0 }
    }
    // Compared with a picture some way back, so that small errors do not add up from frame to frame.
    const x = this.base.x + this.shift.x
    const y = this.base.y + this.shift.y
    if (
      !reference ||
      ++this.sinceReference >= referenceFrames ||
      Math.hypot(this.shift.x, this.shift.y) > 2.5
    ) {
      this.reference = small.slice()
      this.base = { x, y }
      this.shift = { x: 0, y: 0 }
      this.sinceReference = 0
    }
    const isShifted = Math.hypot(x, y) > 0.12
    const scale = width / w
    const still = isShifted ? shifted(small, w, h, { x, y }, this.smallMoved) : small
    const change = this.curve.push({ ...frame, pixels: still, width: w, height: h })
    this.watcher.push(
      isShifted
        ? shifted(frame.pixels, width, height, { x: x * scale, y: y * scale }, this.moved)
        : frame.pixels,
    )
    this.ground.push(change, frame.atSeconds)
  }

  finish(): FilmReading {
    return {
      curve: this.curve.finish(),
      spots: this.watcher?.finish() ?? [],
      swept: this.ground?.finish() ?? [],
      ballLies: this.watcher?.stillLies() ?? 0,
      ...this.size,
    }
  }
}
