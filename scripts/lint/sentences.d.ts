import type { Rule } from 'eslint'

/** Files that are let out, each with the reason. */
export const letOut: Record<string, string>
export const isSentence: (text: string) => boolean
declare const rule: Rule.RuleModule
export default rule
/** Folders and files of the window in which every text a person reads is judged. */
export const judgedWindow: string[]
