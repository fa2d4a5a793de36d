import path from 'node:path'
import type { EventBody, EventName, Handlers } from '../../shared-core/contract/index.ts'
import type { Settings } from '../../shared-core/model/hand-over.ts'
import type { LessonReport } from '../../shared-core/report/lesson-report.ts'
import type { SeasonView } from '../../shared-core/report/season-view.ts'
import type { WhatWorks } from '../../shared-core/students/what-works.ts'
import type { UnitSystem } from '../../shared-core/units.ts'
import type { Trouble } from './custody/inspect.ts'
import type { Journal } from './database/journal.ts'
import type { Db, Sqlite } from './database/open.ts'
import type { PrintPdf } from './hand-over/print-pdf.ts'
import type { JobQueue } from './jobs/queue.ts'
import type { MediaPrograms } from './media/ffmpeg-path.ts'
import type { Reporter } from './reporter.ts'

/** Every report of the library; computed beside its work and kept until what it rests on changes. */
export interface Reports {
  /** In the student's units if none are given. */
  lesson(lessonId: string, units?: UnitSystem): Promise<LessonReport>
  season(studentId: string, units?: UnitSystem): Promise<SeasonView>
  /** Across the students whose consent allows it; in the units most of them use. */
  works(options: { club?: string | null; units?: UnitSystem }): Promise<WhatWorks>
}

/** A film on its way into the library: where it is now, where it will be, and when its frames are. */
export interface ArrivingFile {
  copy: string
  original: string
  extension: string
  atSeconds: Float64Array
}

/** What handlers and workers share: the database, the undo journal, the jobs, the media programs. */
export interface LibraryContext {
  readonly folder: string
  /** Name under which this process has the library open. */
  readonly processId: string
  /** Records that don't fit the files: then this library can only be looked at. */
  readonly trouble: Trouble | null
  readonly sqlite: Sqlite
  readonly db: Db
  readonly journal: Journal
  readonly jobs: JobQueue
  /** Films that can be looked at while they are taken in, by the id that their clip will have. */
  readonly arriving: Map<string, ArrivingFile>
  /** Every call of the contract, for work that does what a coach would do by hand (the demo lesson). */
  readonly calls: Handlers
  readonly now: () => Date
  emit<N extends EventName>(name: N, body: EventBody<N>): void
  settings(): Settings
  mediaPrograms(): Promise<MediaPrograms>
  readonly reporter: Reporter
  readonly reports: Reports
  /** Null where no engine to print with is at hand. */
  readonly printPdf: PrintPdf | null
  /** Folder and file names inside the library. */
  readonly paths: LibraryPaths
}

export interface LibraryPaths {
  clips: string
  incoming: string
  talks: string
  coachPictures: string
  coachPicture(id: string, extension: string): string
  original(hash: string, extension: string): string
  proxy(hash: string): string
  poster(hash: string): string
  strip(hash: string): string
}

/** Where each kind of file lies in the library's folder. */
export const pathsOf = (folder: string): LibraryPaths => {
  const clips = path.join(folder, 'clips')
  return {
    clips,
    incoming: path.join(folder, 'incoming'),
    talks: path.join(folder, 'talk-throughs'),
    coachPictures: path.join(folder, 'coach-pictures'),
    coachPicture: (id, extension) => path.join(folder, 'coach-pictures', `${id}${extension}`),
    original: (hash, extension) => path.join(clips, `${hash}${extension}`),
    proxy: (hash) => path.join(clips, `${hash}.proxy.mp4`),
    poster: (hash) => path.join(clips, `${hash}.poster.jpg`),
    strip: (hash) => path.join(clips, `${hash}.strip.jpg`),
  }
}
