export interface Counts {
  passed: number
  failed: number
  skipped: number
}
export function countReport(report: unknown, exitCode: number): Counts & { skippedNames: string[] }
export function sumCounts(parts: Counts[]): Counts
export function summaryLine(counts: Counts): string
