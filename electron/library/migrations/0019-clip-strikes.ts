/** What was seen and heard of each strike in a clip: from all of a lesson's clips together comes how late its sound is. */
export const clipStrikes = {
  version: 19,
  name: 'clip-strikes',
  sql: `
ALTER TABLE clip ADD COLUMN strikes TEXT;
`,
} as const
