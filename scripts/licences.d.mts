export interface Part {
  name: string
  version: string
  licence: string
  author: string
  text: string | null
  folder: string
}
export function fits(licence: string): boolean
export function packagesOf(base: string): Part[]
export function licencesOf(base: string): { text: string; problems: string[]; count: number }
