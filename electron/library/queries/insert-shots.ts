import { randomUUID } from 'node:crypto'
import { asc, eq } from 'drizzle-orm'
import { isNumberTarget } from '../../../shared-core/shots/column-names.ts'
import { metricNames, type AssumedUnit, type MetricName } from '../../../shared-core/model/shot.ts'
import type { ShotsReading } from '../../../shared-core/shots/read-shots.ts'
import { alreadyThere, shotIdentity } from '../../../shared-core/shots/same-shot.ts'
import type { Db } from '../database/open.ts'
import * as t from '../database/schema.ts'

/** Units of this file that nobody has stated. */
export const assumedUnits = (reading: Pick<ShotsReading, 'columns'>): AssumedUnit[] =>
  reading.columns.flatMap(({ target, unit, how }) =>
    (how === 'assumed' || how === 'like') &&
    unit !== null &&
    target !== null &&
    target !== 'ignored' &&
    isNumberTarget(target) &&
    (metricNames as readonly string[]).includes(target)
      ? [{ metric: target as MetricName, unit }]
      : [],
  )

/**
 * Adds those shots of a file that the lesson does not hold yet, behind the others. What a record was when it came is
 * kept as its fingerprint, so that a later change by the coach does not make it another shot.
 */
export const insertShots = (db: Db, lessonId: string, fileName: string, reading: ShotsReading): number => {
  const kept = db
    .select()
    .from(t.shot)
    .where(eq(t.shot.lessonId, lessonId))
    .orderBy(asc(t.shot.position))
    .all()
  const isThere = alreadyThere(
    kept.map((row) => ({
      // Libraries of earlier versions kept only the time; their values tell as well.
      identity: row.fingerprint.startsWith('[')
        ? row.fingerprint.slice(0, row.fingerprint.lastIndexOf('#'))
        : shotIdentity(row),
      shot: row,
    })),
    reading.shots,
  )
  const assumed = assumedUnits(reading)
  let position = kept.at(-1)?.position ?? 0
  let added = 0
  const used = new Set(kept.map((row) => row.fingerprint))
  const fingerprintOf = (identity: string) => {
    let times = 1
    while (used.has(`${identity}#${times}`)) times++
    used.add(`${identity}#${times}`)
    return `${identity}#${times}`
  }
  reading.shots.forEach((read, index) => {
    if (isThere[index]) return
    const { block, ...shot } = read
    position += 1
    added += 1
    db.insert(t.shot)
      .values({
        ...shot,
        id: randomUUID(),
        lessonId,
        fileName,
        position,
        fingerprint: fingerprintOf(shotIdentity(read)),
        blockName: block,
        assumed: assumed.filter(({ metric }) => read[metric] !== null),
      })
      .run()
  })
  return added
}
