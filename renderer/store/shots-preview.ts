import { summaryOfColumns, type ColumnQuestion } from '../../shared-core/shots/summary-of-columns.ts'
import type { ShotsReading } from '../../shared-core/shots/read-shots.ts'

export type ShotsPreview = ShotsReading

/** What has to be asked before the shots of a file can be added: unknown columns, uncertain units. */
export const questionsOf = (preview: unknown): ColumnQuestion[] =>
  summaryOfColumns(preview as ShotsReading).questions
