import type { Rule } from 'eslint'

/** Files that are let out, each with the reason. */
export const letOut: Record<string, string>
export const isSentence: (text: string) => boolean
declare const rule: Rule.RuleModule
export default rule
