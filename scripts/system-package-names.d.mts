export interface Need {
  names: string[]
  commands?: string[]
  for: string
}
export const windowNeeds: Need[]
export const testNeeds: Need[]
export function missingNeeds(
  needs: Need[],
  isInstalled: (name: string) => boolean,
  hasCommand: (command: string) => boolean,
): Need[]
export function offeredName(need: Need, isOffered: (name: string) => boolean): string
export function installedNames(listing: string): Set<string>
export function offeredNames(policy: string): Set<string>
