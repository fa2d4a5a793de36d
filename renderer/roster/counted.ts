export const counted = (n: number, word: string) => `${n} ${word}${n === 1 ? '' : 's'}`
