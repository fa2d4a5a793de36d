export function fileIntegrity(file: string): Promise<string>
export function requireIntegrity(file: string, pinned: string): Promise<void>
