export function benchTable(
  rows: { name: string; value: number; unit: string; aim?: string | number; note?: string }[],
): string
