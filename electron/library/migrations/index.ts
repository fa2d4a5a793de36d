import { start } from './0001-start.ts'
import { remarks } from './0002-remarks.ts'
import { coachPictures } from './0003-coach-pictures.ts'
import { facePhotos } from './0004-face-photos.ts'
import { wholeCovers } from './0005-whole-covers.ts'
import { deletions } from './0006-deletions.ts'
import { custody } from './0007-custody.ts'
import { bodyPoints } from './0008-body-points.ts'
import { liveLessons } from './0009-live-lessons.ts'
import { shotTrust } from './0010-shot-trust.ts'
import { asked } from './0011-asked.ts'
import { exchange } from './0012-exchange.ts'
import { followedPoints } from './0013-followed-points.ts'
import { pageLanguage } from './0014-page-language.ts'
import { stills } from './0015-stills.ts'
import { newMetricNames } from './0016-metric-names.ts'
import { startersByKey } from './0017-starters-by-key.ts'
import { faceStills } from './0018-face-stills.ts'
import { clipStrikes } from './0019-clip-strikes.ts'
import { mediaFields } from './0020-media-fields.ts'
import { clipSlowPart } from './0021-clip-slow-part.ts'
import { microphoneTold } from './0022-microphone-told.ts'
import { handShifts } from './0023-hand-shifts.ts'

/** One step of the schema: plain SQL, self-contained, never changed once shipped. */
export interface Migration {
  readonly version: number
  readonly name: string
  readonly sql: string
}

/** All steps, ascending. */
export const migrations: readonly Migration[] = [
  start,
  remarks,
  coachPictures,
  facePhotos,
  wholeCovers,
  deletions,
  custody,
  bodyPoints,
  liveLessons,
  shotTrust,
  asked,
  exchange,
  followedPoints,
  pageLanguage,
  stills,
  newMetricNames,
  startersByKey,
  faceStills,
  clipStrikes,
  mediaFields,
  clipSlowPart,
  microphoneTold,
  handShifts,
]
