import { parentPort, workerData } from 'node:worker_threads'
import { carrierOf, type Carrier } from '../../../shared-core/body/carrier.ts'
import type { BodyTrack } from '../../../shared-core/body/body-track.ts'
import { claimClub } from '../../../shared-core/following/club-claims.ts'
import { carry } from '../../../shared-core/following/carry.ts'
import type { FollowMark } from '../../../shared-core/following/followed-track.ts'
import { Eye } from './eye.ts'
import { seeClub } from './follow-club.ts'
import { followPoint, patchHalf, type Followed } from './follow-point.ts'
import { GreyStore } from './grey-store.ts'
import { openCv } from './open-cv.ts'
import { failedBy } from '../run-in-thread.ts'

/** What is followed: marks in pixels of the shown picture. */
export interface FollowJob {
  readonly ffmpegPath: string
  readonly file: string
  readonly width: number
  readonly height: number
  readonly captureRate: number
  readonly name: string
  readonly marks: readonly FollowMark[]
  readonly first: number
  readonly last: number
  /** The body's points as far as they were read: they carry what lies on the body where its look changes. */
  readonly body?: BodyTrack
}

/** A point may be hidden so long, real seconds, before it counts as lost. */
const hiddenSeconds = 0.02

/** Follows in the pixels of the file, and says it in pixels of the shown picture. */
export const followInClip = async (
  job: FollowJob,
  options: { signal?: AbortSignal; onProgress?: (share: number) => void } = {},
): Promise<Followed> => {
  const { cv } = await openCv()
  const range = { first: job.first, last: job.last }
  const store = new GreyStore(job, range, options.signal)
  const { scale } = store
  const half = patchHalf(job.name, store.height, store.width)
  const eye = new Eye(cv)
  const inFrames = job.marks.map((m) => ({ frame: m.frame, x: m.x * scale, y: m.y * scale }))
  const isClub = job.name === 'club head' && job.body !== undefined
  // A club is followed by its look first, then looked for from the hands.
  const part = (from: number, to: number) => ({
    ...options,
    onProgress: (share: number) => options.onProgress?.(from + (to - from) * share),
  })
  const { track, lost } = await followPoint(
    eye,
    store,
    {
      ...range,
      marks: inFrames,
      half,
      staysWithin: job.name === 'ball' ? 2 * half : Infinity,
      keepsLook: job.name === 'hands' || job.name === 'ball',
      maxMissing: Math.max(1, Math.round(hiddenSeconds * job.captureRate)),
    },
    part(0, isClub ? 0.4 : 1),
  )
  const toShown = (v: number) => v / scale
  const followed = { lost, track: { frames: track.frames, points: track.points.map(toShown) } }
  const { body, marks, captureRate } = job
  if (!body) return followed
  if (isClub) {
    const hands = carrierOf('hands', body, [], captureRate)
    const seen =
      hands &&
      (await seeClub(
        eye,
        store,
        { ...range, marks: inFrames, captureRate },
        inPixels(hands, scale),
        part(0.4, 1),
      ))
    if (!seen) return followed
    const heads = seen.heads.map((h) => ({ ...h, x: toShown(h.x), y: toShown(h.y) }))
    return claimClub(followed, heads, toShown(seen.lengthPx), marks, { ...range, captureRate })
  }
  const carrier = carrierOf(job.name, body, marks, captureRate)
  return carrier ? carry(followed, carrier, marks, { ...range, captureRate }) : followed
}

const inPixels = (carrier: Carrier, scale: number): Carrier => ({
  ...carrier,
  places: carrier.places.map((p) => ({ ...p, x: p.x * scale, y: p.y * scale })),
})

const port = parentPort
if (port) {
  const abort = new AbortController()
  port.on('message', () => abort.abort(new Error('cancelled')))
  let told = 0
  followInClip(workerData as FollowJob, {
    signal: abort.signal,
    onProgress: (share) => {
      // A message for every frame would be more work than following it.
      if (share - told < 0.02) return
      told = share
      port.postMessage({ share })
    },
  }).then(
    (followed) => port.postMessage({ done: followed }),
    (error: unknown) => port.postMessage(failedBy(error)),
  )
}
