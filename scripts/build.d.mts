export function sourceHash(base: string): string
export function isBuilt(base: string): boolean
export function ensureBuilt(): Promise<void>
