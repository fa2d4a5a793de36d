export function installState(root: string): { fresh: boolean; why: string }
