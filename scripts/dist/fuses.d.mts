export function wantedFuses(platform: NodeJS.Platform): Record<string, boolean>
export function readFuses(program: string): Promise<Record<string, boolean>>
export function setFuses(program: string, platform?: NodeJS.Platform): Promise<Record<string, boolean>>
