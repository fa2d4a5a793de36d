/** Still pictures are clips of one frame; what one shows (grip, setup, face, ground, or the coach's own word), null for films. */
export const stills = {
  version: 15,
  name: 'stills',
  sql: `
ALTER TABLE clip ADD COLUMN still_kind TEXT;
`,
} as const
