import { parentPort, workerData } from 'node:worker_threads'
import { carrierOf } from '../../../shared-core/body/carrier.ts'
import type { BodyTrack } from '../../../shared-core/body/body-track.ts'
import { carry } from '../../../shared-core/following/carry.ts'
import type { FollowMark } from '../../../shared-core/following/followed-track.ts'
import { Eye } from './eye.ts'
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
  const { track, lost } = await followPoint(
    new Eye(cv),
    store,
    {
      ...range,
      marks: job.marks.map((m) => ({ frame: m.frame, x: m.x * scale, y: m.y * scale })),
      half,
      staysWithin: job.name === 'ball' ? 2 * half : Infinity,
      keepsLook: job.name === 'hands' || job.name === 'ball',
      maxMissing: Math.max(1, Math.round(hiddenSeconds * job.captureRate)),
    },
    options,
  )
  const followed = { lost, track: { frames: track.frames, points: track.points.map((v) => v / scale) } }
  const carrier = job.body ? carrierOf(job.name, job.body, job.marks, job.captureRate) : null
  return carrier ? carry(followed, carrier, job.marks, { ...range, captureRate: job.captureRate }) : followed
}

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
