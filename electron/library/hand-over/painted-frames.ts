import type { Writable } from 'node:stream'
import { isCover, type Drawing } from '../../../shared-core/drawing/drawing.ts'
import { definitionOf } from '../../../shared-core/drawing/shapes.ts'
import { shownDuring, type SourceTimeLine } from '../../../shared-core/hand-over/slow-clip-plan.ts'
import type { SceneCue } from '../../../shared-core/scene/scene-cue.ts'
import { overlayOf } from '../scene/still.ts'
import type { ClipSource } from './clip-source.ts'
import type { Size } from './clip-sizes.ts'
import { seenScene } from './seen-scene.ts'

/** Output frames, ends included. */
interface Seen {
  readonly first: number
  readonly last: number
}

/**
 * What is painted over a clip, as pictures that follow each other: each is painted when ffmpeg takes it, so that hundreds of
 * them need no more memory than one.
 */
export interface PaintedStream {
  readonly size: Size
  /** For each picture the output frames that it is seen on, in order. */
  readonly runs: readonly (Seen & { readonly paint: () => Uint8Array })[]
  /**
   * Output frames on which anything is painted, with the empty picture after each; on the others the video is left alone. Every
   * picture begins in one of them: ffmpeg asks at whichever picture came last whether to paint.
   */
  readonly seen: readonly Seen[]
}

/** What is needed to paint the frames of a source: a clip's, or the empty ground of a pair. */
export type PaintedSource = Pick<
  ClipSource,
  'width' | 'height' | 'isMirrored' | 'drawings' | 'cues' | 'captions' | 'sceneOptions' | 'headOn'
>

/**
 * Drawings that are seen: covers on their frames, drawings of a range on it, drawings of a moment only where that
 * moment is held (a single frame would only flash).
 */
const shownDrawings = (source: PaintedSource, held: ReadonlySet<number>): Drawing[] =>
  source.drawings.filter(
    (d) => !d.isHidden && (isCover(d.shape) || d.fromFrame !== d.toFrame || held.has(d.fromFrame)),
  )

/** The blurred areas of a drawing are blurred in the video itself; the scene paints everything else. */
const paintOverlay = (
  source: PaintedSource,
  scene: { drawings: readonly Drawing[]; cues: readonly SceneCue[]; frame: number; caption?: string },
  size: Size,
): Uint8Array => {
  const seen = seenScene(source, scene)
  return overlayOf(
    { width: source.width, height: source.height },
    {
      ...seen,
      options: { ...seen.options, ...(scene.caption ? { caption: scene.caption } : {}) },
      areCoversBlurred: true,
    },
    size,
  ).rgba()
}

/**
 * One picture for each run of frames that shows the same drawings, cues and caption; while a drawing moves, one for every
 * frame. Null where nothing is painted at all.
 */
export const paintedStream = (
  source: PaintedSource,
  line: SourceTimeLine,
  outputFrames: number,
  held: ReadonlySet<number>,
  size: Size,
): PaintedStream | null => {
  // Blurred areas are the video's own work; a filled cover is painted.
  const drawings = shownDrawings(source, held).filter((d) => definitionOf(d.shape).hides?.(d.shape) == null)
  const edges = new Set<number>()
  const edge = (from: number, to: number) => {
    edges.add(Math.max(line.fromFrame, from))
    edges.add(Math.min(line.toFrame, to) + 1)
  }
  for (const d of drawings) {
    edge(d.fromFrame, d.toFrame)
    if (!d.motion) continue
    const last = Math.min(d.toFrame, line.toFrame)
    for (let f = Math.max(d.fromFrame, line.fromFrame); f <= last; f++) edges.add(f)
  }
  for (const f of held) edge(f, f)
  const cuts = [...edges]
    .filter((f) => f >= line.fromFrame && f <= line.toFrame + 1)
    .toSorted((a, b) => a - b)
  const runs = cuts.slice(0, -1).flatMap((from, index) => {
    const to = cuts[index + 1]! - 1
    const shown = shownDuring(line, outputFrames, from, to)
    const isHeld = held.has(from) && from === to
    const caption = isHeld ? source.captions.get(from) : undefined
    const here = drawings.filter(
      (d) => d.fromFrame <= from && from <= d.toFrame && (!d.motion || d.motion(from).length > 0),
    )
    const cues = isHeld ? source.cues.filter((c) => c.frame === from) : []
    if (!shown || (here.length + cues.length === 0 && !caption)) return []
    const scene = { drawings: here, cues, frame: from, ...(caption ? { caption } : {}) }
    return [{ ...shown, paint: () => paintOverlay(source, scene, size) }]
  })
  if (runs.length === 0) return null
  const seen: { first: number; last: number }[] = []
  const pictures: PaintedStream['runs'][number][] = []
  for (const [i, run] of runs.entries()) {
    pictures.push(run)
    const range = seen.at(-1)
    if (range && range.last >= run.first - 1) range.last = run.last
    else seen.push({ first: run.first, last: run.last })
    // An empty picture ends what is seen, for the last one stays until another comes.
    const end = run.last + 1
    if (runs[i + 1]?.first === end || end >= outputFrames) continue
    pictures.push({ first: end, last: end, paint: () => new Uint8Array(size.width * size.height * 4) })
    seen.at(-1)!.last = end
  }
  return { size, runs: pictures, seen }
}

/** Hands the pictures to a program as raw RGBA, never faster than it takes them. */
export const feedPainted =
  (stream: PaintedStream) =>
  async (into: Writable): Promise<void> => {
    let goOn = () => {}
    const wake = () => goOn()
    into.on('drain', wake).on('close', wake)
    for (const run of stream.runs) {
      // The program has what it needs, or has failed; why is told by its exit.
      if (into.destroyed) return
      const more = new Promise<void>((resolve) => (goOn = resolve))
      if (!into.write(run.paint()) && !into.destroyed) await more
    }
    into.end()
  }
