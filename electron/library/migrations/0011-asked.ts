/** Whether a swing did what the coach had asked for; null where nobody said. */
export const asked = {
  version: 11,
  name: 'asked',
  sql: `
ALTER TABLE swing ADD COLUMN did_asked INTEGER;
`,
} as const
