import { summaryOfColumns, type ColumnQuestion } from '../../shared-core/shots/summaryOfColumns.ts'
import type { ShotsReading } from '../../shared-core/shots/readShots.ts'

export type ShotsPreview = ShotsReading

/** What has to be asked before the shots of a file can be added: unknown columns, uncertain units. */
export const questionsOf = (preview: unknown): ColumnQuestion[] =>
  summaryOfColumns(preview as ShotsReading).questions
