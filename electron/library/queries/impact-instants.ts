import { eq } from 'drizzle-orm'
import type { Clip, View } from '../../../shared-core/model/entities.ts'
import { strikeInstant } from '../../../shared-core/moments/strike-instant.ts'
import type { Mark } from '../../../shared-core/timing/tempo.ts'
import { realClock, type ClipTimes } from '../../../shared-core/timing/clip-clock.ts'
import type { Db } from '../database/open.ts'
import * as t from '../database/schema.ts'
import { lessonRow } from './lesson-row.ts'
import { airDelaySeconds, soundDelayOfCamera, strikesByRate } from './sound-delay.ts'

/**
 * When within its impact frame the ball of a view was struck, by the sound ({@link strikeInstant}); null where nothing tells it, or
 * the clip's capture rate is another than its sound was read by. Each camera's delay is asked for once.
 */
export const impactInstants = (
  db: Db,
  lessonId: string,
): ((view: View, clip: Clip, times: ClipTimes) => Mark | null) => {
  const delays = new Map<Clip['camera'], { delaySeconds: number; sdSeconds?: number }>()
  const delayOf = (camera: Clip['camera']) => {
    const known = delays.get(camera)
    if (known) return known
    const delay = soundDelayOfCamera(db, lessonId, camera) ?? {
      delaySeconds: airDelaySeconds(lessonRow(db, lessonId)),
    }
    delays.set(camera, delay)
    return delay
  }
  return (view, clip, times) => {
    const impact = view.moments.find((m) => m.name === 'impact')
    // A coach's own mark is the frame that shows it; the program's is the last before the ball moves.
    if (!impact || impact.how === 'coach') return null
    const row = db
      .select({ strikes: t.clip.strikes, captureRate: t.clip.captureRate })
      .from(t.clip)
      .where(eq(t.clip.id, clip.id))
      .get()!
    const strike = strikesByRate(row)?.strikes.find(
      (s) => s.impact >= view.fromFrame && s.impact <= view.toFrame,
    )
    if (!strike) return null
    // Where the body moved it away from what was heard, its sound says nothing of it.
    if (impact.how === 'body' && impact.frame !== strike.impact) return null
    const clock = realClock(times)
    const real = clock.map((t) => t - clock[0]!)
    return strikeInstant(strike, impact.frame, real, delayOf(clip.camera))
  }
}
