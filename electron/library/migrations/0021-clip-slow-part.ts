/** A film exported at one rate is slow motion in a part only: from and to, seconds after its first frame. */
export const clipSlowPart = {
  version: 21,
  name: 'clip-slow-part',
  sql: `
ALTER TABLE clip ADD COLUMN slow_part TEXT;
`,
} as const
