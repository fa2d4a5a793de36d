export const tallied: string[]
export function tally(name: string, count: number): void
export function sumTally(file: string): Map<string, number>
export function tallyLine(sums: Map<string, number>): string
