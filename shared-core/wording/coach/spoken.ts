import type { findingPhrases } from './findings.ts'
import type { phrases } from './phrases.ts'

/** Phrases that stand in every language: those that findings are made of, and the names of numbers. */
export type SpokenKey = keyof typeof findingPhrases | Extract<keyof typeof phrases, `metric.${string}`>
