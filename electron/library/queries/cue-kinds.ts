import type { CueKind } from '../../../shared-core/model/entities.ts'
import { cueKindIn, sayIn } from '../../../shared-core/wording/say.ts'
import type { Db } from '../database/open.ts'
import * as t from '../database/schema.ts'

/** All cues with their names in the window's language. */
export const cueKinds = (db: Db): CueKind[] =>
  db
    .select()
    .from(t.cueKind)
    .all()
    .map((kind) => ({ ...kind, label: cueKindIn(sayIn('en'), kind) }))

/** Key of a cue → its name. */
export const cueLabels = (db: Db): Record<string, string> =>
  Object.fromEntries(cueKinds(db).map(({ key, label }) => [key, label]))
