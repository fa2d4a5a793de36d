export const bodyModel: { name: string; version: string; integrity: string; files: string[] }
export const modelFolder: string
export function ensureBodyModel(cache?: string): Promise<string>
