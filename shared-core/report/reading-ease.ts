/** Syllables of an English word by its vowel groups: a silent e at the end, -es and -ed taken off (common practice). */
export const syllables = (word: string): number => {
  const letters = word.toLowerCase().replace(/[^a-z]/g, '')
  if (letters.length <= 3) return letters.length === 0 ? 0 : 1
  const bare = letters
    .replace(/(?:[^laeiouy]es|[^tdaeiouy]ed|[^laeiouy]e)$/, (end) => end[0]!)
    .replace(/^y/, '')
  return Math.max(1, (bare.match(/[aeiouy]{1,2}/g) ?? []).length)
}

/**
 * Reading ease of an English text: 206.835 − 1.015 words a sentence − 84.6 syllables a word (Flesch 1948, J. Applied
 * Psychology 32:221). Numbers count as words of one syllable. Null for a text without words.
 */
export const readingEase = (text: string): number | null => {
  const sentences = text.split(/[.!?:]+(?=\s|$)/).filter((part) => /\w/.test(part)).length
  const words = text.match(/[A-Za-z0-9][A-Za-z0-9’'-]*/g) ?? []
  if (words.length === 0 || sentences === 0) return null
  const all = words.reduce((sum, word) => sum + Math.max(1, syllables(word)), 0)
  return 206.835 - 1.015 * (words.length / sentences) - 84.6 * (all / words.length)
}
